// Meter readings from files as keepers write them.
#include "plan/meter_readings.h"

#include "scene/stand_ins.h"

namespace boughlight {
namespace {

const std::string kCage =
    "perches: [{name: Sun perch, at: [45, 30, 60]}]\n"
    "points: [{name: sill, at: [45, 0, 20], facing: [0, -1, 0]}]\n"
    "animal: {back: 5}\n"
    "lamps:\n  - {name: uv tube, fixture: tube.yaml, at: [45, 24, 120]}\n"
    "  - {name: flood, fixture: flood.yaml, at: [45, 24, 130]}\n";

class Sheet {
 public:
  Sheet() {
    folder_.write("tube.yaml", kTube);
    folder_.write("flood.yaml", kFlood);
    scene_ = load(folder_, kCabinet + kCage);
  }
  MeterReadings read(const std::string& text) const {
    return read_meter_readings(folder_.write("readings.csv", text), scene_);
  }
  std::vector<std::string> mistakes(const std::string& text) const {
    std::vector<std::string> texts;
    try {
      read(text);
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems()) {
        const std::string message = problem.message();
        texts.push_back(message.substr(message.find("readings.csv")));
      }
    }
    return texts;
  }

 private:
  TempFolder folder_;
  Scene scene_;
};

TEST(MeterReadings, NamesOfPlacesAndQuantitiesAreForgiving) {
  const MeterReadings sheet = Sheet().read(
      "Place,Quantity, READING ,Orientation\n"
      "sun-perch,UV index,2.1,\n"
      "SILL,Illuminance,800 lux,up\n"
      "sill,uvb,12 uW/cm2,\n");
  ASSERT_EQ(sheet.list.size(), 3U);
  EXPECT_EQ(sheet.list[0].reading, 0U);
  EXPECT_NEAR((sheet.list[0].at - Vec3(0.45, 0.30, 0.65)).norm(), 0, 1e-12) << "at the back";
  EXPECT_TRUE(sheet.list[0].facing.brightest) << "as the perch is declared";
  EXPECT_EQ(sheet.list[0].quantity, Quantity::uvi);
  EXPECT_EQ(sheet.list[0].value, 2.1);
  EXPECT_EQ(sheet.list[1].reading, 1U);
  EXPECT_EQ(sheet.list[1].quantity, Quantity::lux);
  EXPECT_NEAR((sheet.list[1].facing.direction - Vec3::UnitZ()).norm(), 0, 1e-12);
  EXPECT_NEAR((sheet.list[2].facing.direction + Vec3::UnitY()).norm(), 0, 1e-12);
  EXPECT_NEAR(sheet.list[2].value, 0.12, 1e-12);
  EXPECT_EQ(sheet.list[2].mark.line, 4);
}

TEST(MeterReadings, UnitsComeFromCellColumnOrHeader) {
  const Sheet sheet;
  EXPECT_NEAR(sheet.read("place,quantity,Reading (uW/cm2)\nsill,uvb,12\n").list[0].value, 0.12, 1e-12);
  EXPECT_NEAR(sheet.read("place,quantity,reading,unit\nsill,lux,1.2,klx\n").list[0].value, 1200, 1e-9);
  EXPECT_NEAR(sheet.read("place,quantity,reading (umol/(m2 s))\nsill,ppfd,12\n").list[0].value, 12, 1e-12);
  EXPECT_NEAR(sheet.read("x [in],y [in],z [in],quantity,value\n10,20,30,lux,5\n").list[0].at.z(), 0.762,
              1e-12);
  EXPECT_NEAR(sheet.read("x,y,z,length_unit,quantity,value\n1,2,3,m,lux,5\n").list[0].at.z(), 3, 1e-12);
}

TEST(MeterReadings, ReadsSpreadsheetsWithDecimalCommas) {
  const MeterReadings sheet = Sheet().read("place;quantity;reading\nsill;uvi;1,25\n");
  EXPECT_EQ(sheet.list[0].value, 1.25);
}

TEST(MeterReadings, BlankRowsAreCountedAndLeftOut) {
  const MeterReadings sheet =
      Sheet().read("place,quantity,reading\nsill,uvi,\nsill,lux,-\nsill,ppfd,N/A\nsill,lux,5\n");
  EXPECT_EQ(sheet.list.size(), 1U);
  EXPECT_EQ(sheet.blank, 3U);
}

TEST(MeterReadings, LampsScreensAndWarmthAreRead) {
  const MeterReadings sheet = Sheet().read(
      "place,quantity,reading,lamps,screen,warmed up\n"
      "sill,uvi,1,all,with,yes\n"
      "sill,uvi,1,UV tube,without,no\n"
      "sill,uvi,1,flood + uv tube,,\n");
  EXPECT_TRUE(sheet.list[0].lamps.empty());
  EXPECT_EQ(sheet.list[0].screen, true);
  EXPECT_TRUE(sheet.list[0].warm);
  EXPECT_EQ(sheet.list[1].lamps, std::vector<std::size_t>{0});
  EXPECT_EQ(sheet.list[1].screen, false);
  EXPECT_FALSE(sheet.list[1].warm);
  EXPECT_EQ(sheet.list[2].lamps, (std::vector<std::size_t>{0, 1}));
  EXPECT_FALSE(sheet.list[2].screen);
}

TEST(MeterReadings, OrientationsAreRead) {
  const MeterReadings sheet = Sheet().read(
      "place,x,y,z,quantity,reading,orientation,direction_x,direction_y,direction_z\n"
      "a,1,2,3,uvi,1,straight up,,,\n"
      "b,45,24,20,uvi,1,towards uv tube,,,\n"
      "c,1,2,3,uvi,1,\"[0, -2, 0]\",,,\n"
      "d,1,2,3,uvi,1,\"tilted 20 deg from straight up, to the right\",0.6,0,0.8\n"
      "sill,1,2,3,uvi,1,brightest,,,\n");
  EXPECT_EQ(sheet.list[0].facing.direction, Vec3::UnitZ());
  EXPECT_NEAR((sheet.list[1].facing.direction - Vec3::UnitZ()).norm(), 0, 1e-12);
  EXPECT_NEAR((sheet.list[2].facing.direction + Vec3::UnitY()).norm(), 0, 1e-12);
  EXPECT_NEAR(sheet.list[3].facing.direction.x(), 0.6, 1e-12);
  EXPECT_TRUE(sheet.list[4].facing.brightest);
  EXPECT_FALSE(sheet.list[4].reading) << "read elsewhere than where the sill is";
}

TEST(MeterReadings, MistakesAreToldAllAtOnceWhereTheyStand) {
  const Sheet sheet;
  EXPECT_EQ(
      sheet.mistakes(
          "place,quantity,reading\nsilt,uvi,1\nsill,uvx,1\nsill,uvi,abc\nsill,dli,3\nsill,lux,0\n"),
      (std::vector<std::string>{
          "readings.csv:2:1: place: there is no perch or point 'silt' (did you mean 'sill'?); give x, y and "
          "z, or "
          "one of Sun perch or sill",
          "readings.csv:3:6: quantity: 'uvx' is unknown (did you mean 'uvi'?); a meter can read uvi, uvc, "
          "uvb, "
          "uva, d3, actinic, lux, ppfd, irradiance or infrared",
          "readings.csv:4:10: reading: 'abc' is not a number",
          "readings.csv:5:6: quantity: 'dli' is a sum over the day, which no reading at one moment gives; a "
          "meter can read uvi, uvc, uvb, uva, d3, actinic, lux, ppfd, irradiance or infrared",
          "readings.csv:6:10: reading: is 0; only a reading above 0 tells how strong a lamp is: leave it "
          "empty"}));
  EXPECT_EQ(sheet.mistakes("place,quantity,readin\nsill,uvi,1\n").size(), 2U)
      << "an unknown column, a missing one";
  EXPECT_EQ(
      sheet.mistakes("quantity,reading\nuvi,1\n"),
      std::vector<std::string>{"readings.csv:1:1: the place is missing: a column 'place', or x, y and z"});
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,lamps\nsill,uvi,1,tub\n"),
            std::vector<std::string>{
                "readings.csv:2:12: lamps: there is no lamp 'tub'; allowed: all, uv tube or flood"});
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,screen\nsill,uvi,1,perhaps\n"),
            std::vector<std::string>{
                "readings.csv:2:12: through_screen: 'perhaps' is not understood; allowed: yes or "
                "no"});
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,unit\nsill,uvb,1,furlong\n").size(), 1U);
  EXPECT_EQ(sheet.mistakes("place,x,quantity,reading\nsill,3,uvi,1\n"),
            std::vector<std::string>{"readings.csv:2:6: x, y, z: all three are needed"});
  EXPECT_EQ(sheet.mistakes("place,direction_x,direction_y,direction_z,quantity,reading\nsill,,0,1,uvi,1\n"),
            std::vector<std::string>{
                "readings.csv:2:7: direction_x, direction_y, direction_z: all three are needed"});
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,direction_z\nsill,uvi,1,\nsill,uvi,1,1\n"),
            std::vector<std::string>{
                "readings.csv:3:12: direction_x, direction_y, direction_z: all three are needed"});
  EXPECT_EQ(
      sheet.mistakes("place,x,y,z,quantity,reading,orientation\nhere,45,24,130,uvi,1,towards flood\n"),
      std::vector<std::string>{"readings.csv:2:22: orientation: the sensor is where lamp 'flood' is, so it "
                               "cannot look towards it"});
  EXPECT_EQ(sheet.mistakes("place,quantity,reading\nsill,uvi,\n"),
            std::vector<std::string>{"readings.csv: holds no reading: fill in the column 'reading'"});
}

TEST(MeterReadings, NumbersOfAnySizeGiveADirection) {
  for (const char* towards : {"0 1e300 0", "0 1e-300 0", "0 1e-320 0"}) {
    const MeterReadings sheet =
        Sheet().read(std::string("place,quantity,reading,orientation\nsill,uvi,1,") + towards + "\n");
    EXPECT_NEAR((sheet.list[0].facing.direction - Vec3::UnitY()).norm(), 0, 1e-12) << towards;
  }
}

}  // namespace
}  // namespace boughlight
