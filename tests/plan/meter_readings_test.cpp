// Meter readings from files as keepers write them.
#include "plan/meter_readings.h"

#include <fstream>
#include <regex>

#include "scene/stand_ins.h"

namespace boughlight {
namespace {

const std::string kFurnishing =
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
    scene_ = load(folder_, kCabinet + kFurnishing);
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

TEST(MeterReadings, UnitsAreForgivingAsDataSheetsWriteThem) {
  const Sheet sheet;
  for (const char* text :
       {"place,quantity,Reading (µW/cm²)\nsill,uvb,12\n", "place,quantity,Reading (uW/cm^2)\nsill,uvb,12\n",
        "place,quantity,reading,unit\nsill,uvb,12,µW/cm²\n",
        "place,quantity,reading,unit\nsill,uvb,12,UW/CM2\n",
        "place,quantity,reading,unit\nsill,uvb,12 uW/cm2,W/m2\n",
        "place,quantity,reading\nsill,uvb,12 µW/cm²\n"}) {
    EXPECT_NEAR(sheet.read(text).list[0].value, 0.12, 1e-12) << text;
  }
  for (const char* text :
       {"place,quantity,reading\nsill,uvi,1.7 UVI\n", "place,quantity,reading\nsill,UV index,1.7 UV index\n",
        "place,quantity,reading (UVI)\nsill,uvi,1.7\n", "place,quantity,reading,unit\nsill,uvi,1.7,index\n",
        "place,quantity,reading,unit\nsill,uvi,1.7,-\n", "place,quantity,reading (lx)\nsill,uvi,1.7 UVI\n"}) {
    EXPECT_EQ(sheet.read(text).list[0].value, 1.7) << text;
  }
  EXPECT_EQ(sheet.read("place,quantity,reading\nsill,lux,80 Lux\n").list[0].value, 80);
  EXPECT_NEAR(sheet.read("x (IN),y (IN),z (IN),quantity,value\n10,20,30,lux,5\n").list[0].at.z(), 0.762,
              1e-12);
}

TEST(MeterReadings, ATableWithAColumnForEachQuantityIsRead) {
  const MeterReadings sheet = Sheet().read(
      "Date,Time,Position,UVI,UV-B [µW/cm²],Lux lx,PAR,lamps,remark\n"
      "2024-03-12,10:15,sill,1.7,50,6100,,uv tube,held level\n"
      "2024-03-12,10:20,sun perch,2.1 UVI,-,n/a,90,all,\n"
      "2024-03-12,10:25,sill,,,,,,battery flat\n");
  ASSERT_EQ(sheet.list.size(), 5U);
  EXPECT_EQ(sheet.blank, 1U);
  EXPECT_EQ(sheet.list[0].quantity, Quantity::uvi);
  EXPECT_EQ(sheet.list[0].value, 1.7);
  EXPECT_EQ(sheet.list[1].quantity, Quantity::uvb);
  EXPECT_NEAR(sheet.list[1].value, 0.5, 1e-12);
  EXPECT_EQ(sheet.list[1].mark.column, 27);
  EXPECT_EQ(sheet.list[2].quantity, Quantity::lux);
  EXPECT_EQ(sheet.list[2].reading, 1U);
  EXPECT_EQ(sheet.list[2].lamps, std::vector<std::size_t>{0});
  EXPECT_EQ(sheet.list[3].value, 2.1);
  EXPECT_EQ(sheet.list[3].reading, 0U);
  EXPECT_EQ(sheet.list[4].quantity, Quantity::ppfd);
  EXPECT_EQ(sheet.list[4].value, 90);
}

TEST(MeterReadings, ColumnsForPeopleAreNotLookedAt) {
  const MeterReadings sheet = Sheet().read(
      "No,spot,quantity,reading,comment,remark,note 2,day,hour,meter,serial number,who,humidity,Temperature "
      "(°C)\n"
      "1,sill,uvi,1.7,a,b,c,d,e,f,g,h,i,j\n");
  EXPECT_EQ(sheet.list.size(), 1U);
}

TEST(MeterReadings, EveryColumnThatTheGuideNamesIsKnown) {
  std::ifstream guide(BOUGHLIGHT_SOURCE_DIR "/cli/guides/calibrating.md");
  const Sheet sheet;
  int names = 0;
  const auto known = [&](const std::string& text) {
    const std::regex name("`([a-z_ ]+)`");
    for (std::sregex_iterator at(text.begin(), text.end(), name), end; at != end; ++at, ++names) {
      const std::string column = (*at)[1].str();
      for (const std::string& mistake : sheet.mistakes("place,quantity,reading," + column + "\n"))
        EXPECT_EQ(mistake.find("no column that is known"), std::string::npos) << mistake;
      // Beside columns of the same name this is refused, not read.
      const std::string row = "place,quantity,reading," + column + "\nsill,uvi,1,\n";
      if (sheet.mistakes(row).empty()) {
        EXPECT_EQ(sheet.read(row).unread_columns.size(), 0U) << column;
      }
    }
  };
  bool for_people = false;
  for (std::string line; std::getline(guide, line);) {
    if (line.starts_with("| `")) known(line.substr(0, line.find('|', line.find('|', 1) + 1)));
    for_people = for_people || line.find("Not looked at are") != std::string::npos;
    if (line.starts_with("From any other column")) for_people = false;
    if (for_people)
      known(line.substr(
          line.find("Not looked at are") == std::string::npos ? 0 : line.find("Not looked at are")));
  }
  EXPECT_GT(names, 50);
}

TEST(MeterReadings, MistakesOfWideTablesAreTold) {
  const Sheet sheet;
  EXPECT_EQ(
      sheet.mistakes("place,UVI,lux\nsilt,abc,0\nsill,3 uW/cm2,2 furlong\nsill,1.7,\n"),
      (std::vector<std::string>{
          "readings.csv:2:6: uvi: 'abc' is not a number",
          "readings.csv:2:10: lux: is 0; only a reading above 0 tells how strong a lamp is: leave it empty",
          "readings.csv:2:1: place: there is no perch or point 'silt' (did you mean 'sill'?); give x, y and "
          "z, or one of Sun perch or sill",
          "readings.csv:3:6: uvi: 'uW/cm2' is no unit of uvi, which is a plain number; total UV-B in such a "
          "unit is uvb",
          "readings.csv:3:15: lux: 'furlong' is no unit of lux; allowed: lx, lux, klx or fc"}));
  EXPECT_EQ(
      sheet.mistakes("place,uvi,quantity,reading,lux,Illuminance,UVB (lx),dli\nsill,1,lux,5,,,,\n"),
      (std::vector<std::string>{
          "readings.csv:1:32: there are two columns 'lux': 'lux' and 'Illuminance'",
          "readings.csv:1:44: 'lx' is no unit of uvb; allowed: W/m2, mW/m2, uW/m2, mW/cm2, uW/cm2 or W/cm2",
          "readings.csv:1:53: 'dli' is a sum over the day, which no reading at one moment gives; a meter can "
          "read uvi, uvc, uvb, uva, d3, actinic, lux, ppfd, irradiance or infrared",
          "readings.csv:1:11: the column 'quantity' says here what the column 'uvi' says by its name: have "
          "either one column a quantity, or the columns quantity, reading and unit",
          "readings.csv:1:20: the column 'reading' says here what the column 'uvi' says by its name: have "
          "either one column a quantity, or the columns quantity, reading and unit"}));
  EXPECT_EQ(
      sheet.mistakes("place,uvi\nsill,\n"),
      std::vector<std::string>{"readings.csv: holds no reading: fill in the columns of the quantities"});
}

TEST(MeterReadings, UnknownColumnsAndUnitsAreToldWithTheNearestName) {
  const Sheet sheet;
  const std::string known =
      "; there are place, x, y, z, orientation, direction_x, direction_y, direction_z, quantity, reading, "
      "unit, "
      "length_unit, lamps, through_screen, warm, expected, low, high, notes, date, time, meter, by, number, "
      "temperature or humidity, and one for each quantity, such as uvi or lux; what is for people only "
      "begins "
      "with 'note'";
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,screeen,positon,distance to lux\nsill,uvi,1,yes,a,3\n"),
            (std::vector<std::string>{
                "readings.csv:1:24: 'screeen' is no column that is known (did you mean 'screen'?)" + known,
                "readings.csv:1:32: 'positon' is no column that is known (did you mean 'position'?)" + known,
                "readings.csv:1:40: 'distance to lux' is no column that is known" + known}));
  EXPECT_EQ(
      sheet.mistakes("place,position,quantity,reading\nsill,sill,uvi,1\n"),
      std::vector<std::string>{"readings.csv:1:7: there are two columns 'place': 'place' and 'position'"});
  const std::string allowed = "; allowed: W/m2, mW/m2, uW/m2, mW/cm2, uW/cm2 or W/cm2";
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,unit\nsill,uvb,1,uW/cm\nsill,uvi,50,uW/cm2\n"),
            (std::vector<std::string>{
                "readings.csv:2:12: unit: 'uW/cm' is no unit of uvb (did you mean 'uW/cm2'?)" + allowed,
                "readings.csv:3:13: unit: 'uW/cm2' is no unit of uvi, which is a plain number; total UV-B in "
                "such a unit is uvb"}));
  EXPECT_EQ(sheet.mistakes("place,quantity,reading (furlong)\nsill,uvb,1\n"),
            std::vector<std::string>{
                "readings.csv:2:10: unit: behind the column's name: 'furlong' is no unit of uvb" + allowed});
  EXPECT_EQ(
      sheet.mistakes("x,y,z,length_unit,quantity,value\n1,2,3,cmm,lux,5\n"),
      std::vector<std::string>{"readings.csv:2:7: length_unit: 'cmm' is no unit of length (did you mean "
                               "'cm'?); allowed: m, cm, mm, um, in, inch or ft"});
}

TEST(MeterReadings, AFigureThatCanBeReadInTwoWaysIsRefused) {
  EXPECT_EQ(
      Sheet().mistakes("place;quantity;reading\nsill;lux;1,250\nsill;uvi;2.5\n"),
      std::vector<std::string>{
          "readings.csv:2:10: '1,250' may be 1.250 or 1250, for line 3 has '2.5': write all decimals with a "
          "point, and nothing between thousands"});
  EXPECT_EQ(Sheet().mistakes("place;quantity;reading\nsill;lux;1,250 lx\n").size(), 1U);
  EXPECT_EQ(Sheet().read("place;quantity;reading\nsill;lux;1,250\nsill;uvi;0,5\n").list[0].value, 1.25);
  EXPECT_EQ(
      Sheet().mistakes("place,quantity,reading\nsill,lux,\"1,250\"\nsill,uvi,010\n"),
      (std::vector<std::string>{
          "readings.csv:2:10: reading: '1,250' has a comma: write a decimal point, and nothing between "
          "thousands",
          "readings.csv:3:10: reading: '010' starts with a zero, which some programs read as octal: leave "
          "the zero out"}));
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

TEST(MeterReadings, ANameSpelledAsInTheSceneIsMeant) {
  TempFolder folder;
  folder.write("tube.yaml", kTube);
  const Scene scene =
      load(folder, kCabinet +
                       "perches: [{name: sun perch, at: [45, 30, 60]}, {name: Sun_Perch, at: [45, 30, 40]}]\n"
                       "lamps:\n  - {name: uv tube, fixture: tube.yaml, at: [45, 24, 120]}\n"
                       "  - {name: UV Tube, fixture: tube.yaml, at: [45, 24, 130]}\n");
  const auto read = [&](const std::string& row) {
    return read_meter_readings(folder.write("readings.csv", "place,quantity,reading,lamps\n" + row + "\n"),
                               scene)
        .list.at(0);
  };
  EXPECT_EQ(read("Sun_Perch,uvi,1,UV Tube").reading, 1U);
  EXPECT_EQ(read("Sun_Perch,uvi,1,UV Tube").lamps, std::vector<std::size_t>{1});
  EXPECT_EQ(read("sun perch,uvi,1,uv tube").lamps, std::vector<std::size_t>{0});
  for (const std::string row : {"SUN PERCH,uvi,1,", "sun perch,uvi,1,uv_tube"}) {
    try {
      read(row);
      ADD_FAILURE() << row;
    } catch (const InputError& error) {
      EXPECT_NE(std::string(error.what()).find(": write it as the scene does"), std::string::npos)
          << error.what();
      EXPECT_NE(std::string(error.what()).find(" may be "), std::string::npos) << error.what();
    }
  }
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
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,lamps\nsill,uvi,1,+\n"),
            std::vector<std::string>{
                "readings.csv:2:12: lamps: '+' names no lamp; allowed: all, uv tube or flood"});
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,screen\nsill,uvi,1,perhaps\n"),
            std::vector<std::string>{
                "readings.csv:2:12: through_screen: 'perhaps' is not understood; allowed: yes or "
                "no"});
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,unit\nsill,uvb,1,furlong\n").size(), 1U);
  EXPECT_EQ(sheet.mistakes("x,y,z,quantity,reading\n1e25,1,1,uvi,1\n1,1,-100.1 m,uvi,1\n"),
            (std::vector<std::string>{"readings.csv:2:1: x: is 1e25; a place is at most 100 m away",
                                      "readings.csv:3:5: z: is -100.1 m; a place is at most 100 m away"}));
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

TEST(MeterReadings, OfColumnsThatAreLikeNoneNothingIsReadAndTheyAreTold) {
  const Sheet sheet;
  const MeterReadings found = sheet.read("place,fogger on,UVI,Mood (1-5),lux\nsill,yes,1.7,4,600\n");
  EXPECT_EQ(found.list.size(), 2U);
  EXPECT_EQ(found.unread_columns, (std::vector<std::string>{"fogger on", "Mood (1-5)"}));
  for (const char* header :
       {"UVI at noon", "UV index at noon", "UV-B noon", "my UV_A", "my lux", "placce", "luxx"})
    EXPECT_EQ(sheet.mistakes("place,quantity,reading," + std::string(header) + "\nsill,uvi,1,2\n").size(), 1U)
        << header;
}

TEST(MeterReadings, NumbersOfAnySizeGiveADirection) {
  for (const char* towards : {"0 1e300 0", "0 1e-300 0", "0 1e-320 0"}) {
    const MeterReadings sheet =
        Sheet().read(std::string("place,quantity,reading,orientation\nsill,uvi,1,") + towards + "\n");
    EXPECT_NEAR((sheet.list[0].facing.direction - Vec3::UnitY()).norm(), 0, 1e-12) << towards;
  }
}

TEST(MeterReadings, ThatCannotBeFittedAreRefused) {
  const Sheet sheet;
  EXPECT_EQ(sheet.mistakes("place,quantity,reading,warm\nsill,uvi,1,no\nsill,lux,500,no\n"),
            std::vector<std::string>{"readings.csv: holds no reading of warm lamps: all were taken cold"});
  for (const std::string figure : {"1e30", "1e-300", "1e10"})
    EXPECT_EQ(sheet.mistakes("place,quantity,reading\nsill,uvi," + figure + "\n"),
              std::vector<std::string>{"readings.csv:2:10: reading: is " + figure +
                                       ", which no meter shows: is the decimal point where it belongs?"});
  std::string many = "place,quantity,reading\n";
  for (int i = 0; i < 1001; ++i) many += "sill,uvi,1\n";
  EXPECT_EQ(sheet.mistakes(many),
            std::vector<std::string>{
                "readings.csv: holds 1001 readings; at most 1000 can be fitted together, so keep "
                "one of those that were taken at the same place"});
}

}  // namespace
}  // namespace boughlight
