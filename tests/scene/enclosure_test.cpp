#include "scene/enclosure.h"

#include <gtest/gtest.h>

#include <random>

namespace boughlight {
namespace {

Box box(const Vec3& corner, const Vec3& size) {
  Box made;
  made.corner = corner;
  made.size = size;
  return made;
}

double area(const std::vector<FacePart>& faces) {
  double sum = 0;
  for (const FacePart& face : faces) sum += face.edge_u.cross(face.edge_v).norm();
  return sum;
}

TEST(OuterFaces, OfOneBoxAreItsSixSides) {
  const auto faces = outer_faces({box(Vec3::Zero(), {0.9, 0.55, 1.1})});
  ASSERT_EQ(faces.size(), 6u);
  EXPECT_NEAR(area(faces), 2 * (0.9 * 0.55 + 0.9 * 1.1 + 0.55 * 1.1), 1e-12);
  for (const FacePart& face : faces) {
    EXPECT_EQ(face.outward.norm(), 1);
    EXPECT_NEAR(face.outward.dot(face.edge_u), 0, 1e-12);
    EXPECT_NEAR(face.outward.dot(face.edge_v), 0, 1e-12);
    // Outward: away from the middle of the box.
    EXPECT_GT(face.outward.dot(face.corner - Vec3(0.45, 0.275, 0.55)), 0);
  }
}

TEST(OuterFaces, RunAlongTheAxesThatPitchIsCountedBy) {
  for (const FacePart& face : outer_faces({box(Vec3::Zero(), {1, 2, 3})})) {
    const bool level = face.side == Side::floor || face.side == Side::top;
    const bool across = face.side == Side::front || face.side == Side::back;
    EXPECT_TRUE(face.edge_u.isApprox(level || across ? Vec3(1, 0, 0) : Vec3(0, 2, 0)));
    EXPECT_TRUE(face.edge_v.isApprox(level ? Vec3(0, 2, 0) : Vec3(0, 0, 3)));
  }
}

TEST(OuterFaces, OfTwoBoxesLeaveOutTheirCommonRectangle) {
  const std::vector<Box> boxes = {box(Vec3::Zero(), {0.9, 0.55, 1.1}), box({0.15, 0, 1.1}, {0.6, 0.55, 0.5})};
  const auto faces = outer_faces(boxes);
  // Both whole surfaces less twice the common 0.6 x 0.55.
  const double whole = 2 * (0.9 * 0.55 + 0.9 * 1.1 + 0.55 * 1.1) + 2 * (0.6 * 0.55 + 0.6 * 0.5 + 0.55 * 0.5);
  EXPECT_NEAR(area(faces), whole - 2 * 0.6 * 0.55, 1e-12);
  EXPECT_NEAR(uncovered_share(boxes, 0, Side::top), 1 - 0.6 / 0.9, 1e-12);
  EXPECT_EQ(uncovered_share(boxes, 1, Side::floor), 0);
  EXPECT_EQ(uncovered_share(boxes, 0, Side::floor), 1);
  EXPECT_EQ(uncovered_share(boxes, 1, Side::left), 1);
  EXPECT_EQ(std::count_if(faces.begin(), faces.end(),
                          [](const FacePart& face) { return face.box == 0 && face.side == Side::top; }),
            2);
}

TEST(OuterFaces, OfAnOverhangingBoxHaveABelly) {
  const std::vector<Box> boxes = {box(Vec3::Zero(), {0.5, 0.5, 1}), box({-0.1, -0.1, 1}, {0.7, 0.7, 0.5})};
  EXPECT_EQ(uncovered_share(boxes, 0, Side::top), 0);
  EXPECT_NEAR(uncovered_share(boxes, 1, Side::floor), 1 - 0.25 / 0.49, 1e-12);
  int parts = 0;
  for (const FacePart& face : outer_faces(boxes)) parts += face.box == 1 && face.side == Side::floor;
  EXPECT_EQ(parts, 4);
}

TEST(OuterFaces, SeparateInsideFromOutsideOnEveryRay) {
  // A ray from inside crosses outer faces an odd number of times: no gap, no overlap.
  const std::vector<Box> boxes = {box(Vec3::Zero(), {0.9, 0.55, 1.1}),
                                  box({0.25, -0.1, 1.1}, {0.8, 0.4, 0.5}),
                                  box({0.3, 0.0, 1.6}, {0.2, 0.2, 0.3})};
  const auto faces = outer_faces(boxes);
  std::mt19937 random(7);
  std::uniform_real_distribution<double> u(-1, 1);
  for (int i = 0; i < 20000; ++i) {
    const Box& start = boxes[static_cast<std::size_t>(i % 3)];
    const Vec3 from =
        start.corner + start.size / 2 + 0.49 * start.size.cwiseProduct(Vec3(u(random), u(random), u(random)));
    const Vec3 way = Vec3(u(random), u(random), u(random)).normalized();
    int crossings = 0;
    for (const FacePart& face : faces) {
      const double t = (face.corner - from).dot(face.outward) / way.dot(face.outward);
      if (t <= 0) continue;
      const Vec3 on = from + t * way - face.corner;
      const double s = on.dot(face.edge_u) / face.edge_u.squaredNorm();
      const double r = on.dot(face.edge_v) / face.edge_v.squaredNorm();
      crossings += s >= 0 && s < 1 && r >= 0 && r < 1;
    }
    EXPECT_EQ(crossings % 2, 1) << from.transpose() << " towards " << way.transpose();
  }
}

TEST(OuterFaces, SliversOfRoundingAreDropped) {
  const std::vector<Box> boxes = {box(Vec3::Zero(), {0.9, 0.55, 1.1}),
                                  box({0.1 + 0.2 - 0.3, 0, 1.1}, {0.3 * 3, 0.55, 0.5})};
  EXPECT_EQ(outer_faces(boxes).size(), 10u);
  EXPECT_EQ(uncovered_share(boxes, 0, Side::top), 0);
}

}  // namespace
}  // namespace boughlight
