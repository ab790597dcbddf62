#include "transport/uptake.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace boughlight {
namespace {

enum : std::uint64_t { kSiteStream = 21, kWalkStream = 22, kKeepStream = 23, kJoinStream = 24 };

// More sites than are kept, so that there is something to choose from.
constexpr std::uint32_t kPlacesForEachKept = 2;
constexpr std::uint32_t kLeastPaths = 4;
// How the choice is shared out: by what arrives from the range's lamps, by what would arrive if nothing stood
// in the way, and by the path alone, since other places of the lamp may light what those leave dark.
constexpr double kSeenShare = 0.7, kOpenShare = 0.2;
// A place of the lamp from which hardly anything arrives has little say in which sites are kept.
constexpr double kFaintShare = 0.05;

}  // namespace

Uptake::Uptake(const LightField& field, const Receiver& receiver, bool spread, std::vector<Spectral> weights,
               const std::vector<PlacedLamp>& range, const UptakeEffort& effort, RayCount& rays)
    : field_(field), weights_(std::move(weights)) {
  if (weights_.size() > kMostQuantities) throw std::logic_error("more quantities than there are");
  for (const Spectral& bins : weights_) whole_.push_back(bins.sum());
  std::array<RayCount, kReplicates> counts;
  tbb::parallel_for(0, kReplicates, [&](int replicate) {
    const auto k = static_cast<std::size_t>(replicate);
    const std::uint64_t stream = mix64(receiver.id, k);
    joins_[k].resize(effort.parts);
    const std::uint32_t direct = effort.direct * effort.parts, indirect = effort.indirect * effort.parts;
    keep(sites_at(receiver, mix64(stream, kSiteStream), spread ? kPlacesForEachKept * direct : 1),
         receiver.normal, range, direct, mix64(stream, kKeepStream), joins_[k], counts[k]);
    if (indirect == 0) return;
    keep(sites_around(receiver, mix64(stream, kWalkStream), std::max(kLeastPaths, indirect), counts[k]),
         receiver.normal, range, indirect, mix64(mix64(stream, kKeepStream), 1), joins_[k], counts[k]);
  });
  for (const RayCount& count : counts) rays += count;
}

std::vector<Uptake::Site> Uptake::sites_at(const Receiver& receiver, std::uint64_t stream,
                                           std::uint32_t places) const {
  std::vector<Site> sites(places);
  for (std::uint32_t i = 0; i < places; ++i) {
    sites[i].at = {receiver.place(stream, i), receiver.normal, nullptr, nullptr};
    sites[i].throughput = Spectral::Constant(1 / static_cast<float>(places));
  }
  return sites;
}

std::vector<Uptake::Site> Uptake::sites_around(const Receiver& receiver, std::uint64_t stream,
                                               std::uint32_t paths, RayCount& rays) const {
  struct Collector {
    std::vector<Site> sites;
    Vec3f direction;
    float weight;
    void segment(const Vec3f&, const Vec3f&, float, const Spectral&, Met) {}
    void escape(const Vec3f&, const Spectral&) {}
    void vertex(const ScatterSite& at, const Spectral& throughput) {
      sites.push_back({at, direction, weight * throughput});
    }
  } collector;
  for (std::uint32_t i = 0; i < paths; ++i) {
    PairSampler sampler(stream, i);
    const Vec3f place = receiver.place(stream, i);
    const SensorDirections directions(field_.lamp_cones(), place, receiver.normal);
    collector.direction = directions.sample(sampler.next());
    collector.weight = 1 / (static_cast<float>(paths) * directions.pdf(collector.direction));
    walk<Travel::against_light>(field_, place, collector.direction, Spectral::Ones(), sampler, rays,
                                collector);
  }
  return std::move(collector.sites);
}

Uptake::Join Uptake::join_of(const Site& site) const {
  Join join{site, 0, 0, 1, {}, {}};
  if (!site.at.diffuse) return join;
  for (const Spectral& bins : weights_) {
    join.front.push_back((bins * site.throughput * site.at.diffuse->reflectance).sum());
    join.back.push_back((bins * site.throughput * site.at.diffuse->transmittance).sum());
  }
  return join;
}

// Shares that add up to 1, none of them 0 where the site can carry any light at all.
std::vector<double> Uptake::chances(const std::vector<Site>& sites, const Vec3f& normal,
                                    const std::vector<PlacedLamp>& range, std::uint64_t stream,
                                    RayCount& rays) const {
  // Columns: lamps x quantities for what arrives; lamps for what would if nothing stood in the way; one for
  // the path alone.
  const std::size_t lamps = range.size(), kinds = weights_.size();
  const auto count = static_cast<Eigen::Index>(sites.size());
  Eigen::ArrayXXd seen = Eigen::ArrayXXd::Zero(count, static_cast<Eigen::Index>(lamps * kinds));
  Eigen::ArrayXXd open = Eigen::ArrayXXd::Zero(count, static_cast<Eigen::Index>(lamps));
  Eigen::ArrayXXd plain(count, 1);
  for (Eigen::Index i = 0; i < count; ++i) {
    const Site& site = sites[static_cast<std::size_t>(i)];
    // A sensor may be turned another way in the end, so what comes from behind counts a little too.
    const auto facing = [&](const Vec3f& direction) { return 0.25f + std::max(0.0f, normal.dot(direction)); };
    const bool scatters = site.at.diffuse || site.at.mesh;
    plain(i, 0) = scatters ? facing(site.direction) * field_.importance().of(site.throughput) : 1;
    Join trial = join_of(site);
    trial.stream = stream;
    trial.number = static_cast<std::uint32_t>(i);
    for (std::size_t l = 0; l < lamps; ++l) {
      follow(trial, range[l], rays, [&](const Vec3f& direction, const float* values) {
        for (std::size_t q = 0; q < kinds; ++q)
          seen(i, static_cast<Eigen::Index>(l * kinds + q)) +=
              static_cast<double>(facing(direction)) * static_cast<double>(values[q]);
      });
      const LightField::Connection connection = LightField::connect(range[l], site.at.place, {0.5f, 0.5f});
      const Vec3f way = (connection.target - site.at.place).normalized();
      open(i, static_cast<Eigen::Index>(l)) =
          plain(i, 0) * static_cast<double>(connection.weight * std::abs(site.at.normal.dot(way)));
    }
  }
  // Each place of the lamp and each quantity has its say, but for those that get nearly nothing.
  const auto shares = [&](const Eigen::ArrayXXd& columns) -> Eigen::ArrayXd {
    const Eigen::ArrayXd sums = columns.colwise().sum().transpose();
    Eigen::ArrayXd result = Eigen::ArrayXd::Zero(count);
    for (Eigen::Index c = 0; c < columns.cols(); ++c) {
      if (!(sums[c] > 0)) continue;
      // Columns of one quantity are kinds apart.
      const auto step =
          static_cast<Eigen::Index>(columns.cols() > static_cast<Eigen::Index>(lamps) ? kinds : 1);
      double most = 0;
      for (Eigen::Index k = c % step; k < columns.cols(); k += step) most = std::max(most, sums[k]);
      result += columns.col(c) / (sums[c] + kFaintShare * most);
    }
    const double total = result.sum();
    return total > 0 ? Eigen::ArrayXd(result / total) : result;
  };
  Eigen::ArrayXd chance =
      kSeenShare * shares(seen) + kOpenShare * shares(open) + (1 - kSeenShare - kOpenShare) * shares(plain);
  const double total = chance.sum();
  if (!(total > 0)) return {};
  chance /= total;
  return {chance.begin(), chance.end()};
}

void Uptake::keep(const std::vector<Site>& sites, const Vec3f& normal, const std::vector<PlacedLamp>& range,
                  std::uint32_t count, std::uint64_t stream, Parts& parts, RayCount& rays) const {
  if (sites.empty() || count == 0) return;
  const std::vector<double> chance =
      sites.size() > 1 ? chances(sites, normal, range, mix64(stream, 2), rays) : std::vector<double>{1.0};
  if (chance.empty()) return;
  // Systematic sampling: every site is kept count x chance times, rounded up or down by one chance for all.
  // The kept ones are dealt out to the parts in turn, the first to one drawn by chance.
  Stream random(stream, 1);
  const auto first = static_cast<std::uint32_t>(random.next() * static_cast<double>(parts.size()));
  const auto hands = static_cast<std::uint32_t>(parts.size());
  double passed = random.next();
  std::uint32_t number = 0;
  for (std::size_t i = 0; i < sites.size(); ++i) {
    const double times = count * chance[i];
    passed += times;
    for (; passed >= 1; --passed, ++number) {
      const std::uint32_t part = (first + number) % hands;
      Join join = join_of(sites[i]);
      join.stream = mix64(mix64(stream, kJoinStream), part);
      join.number = number / hands;
      join.weight = static_cast<float>(hands / times);
      // What comes straight from the lamp is not part of a path: its throughput is its share alone.
      if (!sites[i].at.diffuse && !sites[i].at.mesh) join.weight *= sites[i].throughput[0];
      if (!std::isfinite(join.weight) || !(join.weight >= 0))
        throw std::runtime_error("a sample of a lamp's light is negative or not finite");
      parts[part].push_back(std::move(join));
    }
  }
}

}  // namespace boughlight
