// The papers of putting back, made from replies of the contract corpus.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "sheets/flow.hpp"
#include "sheets/purge_sheet.hpp"
#include "sheets/run_sheet.hpp"
#include "sheets/test_sheet.hpp"
#include "tests/unit/sheets/support.hpp"

namespace bellhole::sheets {
namespace {

const Options letter_us{Paper::letter, units::System::us},
    a4_metric{Paper::a4, units::System::metric};

/// The reply of a case of the corpus.
wire::Json reply_of(const std::string& name) {
  std::ifstream file(std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/" + name + ".json");
  return wire::Json::parse(file).at("reply");
}

#define TEXT_OF(name, pdf)                                  \
  const auto name##_read = test::text_of(pdf);              \
  if (!name##_read) FAIL() << "pdftotext is not installed"; \
  const std::string& name = *name##_read

void expect_all(const std::string& text, std::initializer_list<const char*> parts) {
  for (const char* part : parts) EXPECT_NE(text.find(part), std::string::npos) << part;
}

TEST(TestSheet, PrintsWindowReadingsAndRoomToSign) {
  const auto pdf = test_sheet(reply_of("pressure-test/cooled"), letter_us);
  ASSERT_TRUE(pdf) << pdf.error().where;
  TEXT_OF(text, *pdf);
  expect_all(text, {"Pressure test IPS 6 DR 11.5 PE2708", "FILL TO", "BETWEEN", "90.0 psig",
                    "keep off the ends", "energy of the gas", "94.0 psig", "84.0 °F", "Instruments",
                    "smallest division", "calibrated until", "no leak found", "not explained",
                    "accepted by, name and date", "Taken for granted"});
}

TEST(TestSheet, PrintsTheOtherWay) {
  const auto pdf = test_sheet(reply_of("pressure-test/pretested"), a4_metric);
  ASSERT_TRUE(pdf) << pdf.error().where;
  TEXT_OF(text, *pdf);
  expect_all(text, {"pipe P-118", "tie-in J-1", "no bubbles", "tie-in J-2", "bar(g)"});
}

TEST(TestSheet, LiesWithinThePaperAndNotOnItself) {
  for (const char* name : {"pressure-test/cooled", "pressure-test/pretested",
                           "pressure-test/ninety_against_a_squeeze"}) {
    for (const Options& options : {letter_us, a4_metric}) {
      const auto pdf = test_sheet(reply_of(name), options);
      ASSERT_TRUE(pdf) << name;
      EXPECT_LE(test::pages_of(*pdf), 2u) << name;
      const auto words = test::words_of(*pdf);
      if (!words) FAIL() << "pdftotext is not installed";
      const auto paper = size_of(options.paper);
      EXPECT_EQ(test::crowding(*words, paper.w, paper.h), "") << name;
    }
  }
}

TEST(PurgeSheet, PrintsOneMainAndItsReadings) {
  const auto pdf = purge_sheet(reply_of("purge/stack"), letter_us);
  ASSERT_TRUE(pdf) << pdf.error().where;
  TEXT_OF(text, *pdf);
  expect_all(text, {"Purge of a main", "3.0 ft/s", "slug, if used", "inlet at the feed",
                    "8.0 ft above the ground", "never on %LEL", "% gas by volume", "HALT"});
}

TEST(PurgeSheet, PrintsTheLegsOfAPlan) {
  const auto reply = reply_of("purge/of_plan");
  const auto pdf = purge_sheet(reply, a4_metric);
  ASSERT_TRUE(pdf) << pdf.error().where;
  TEXT_OF(text, *pdf);
  expect_all(text, {"Purge of the part", "1. From A", "vent at the work", "a rider valve",
                    "% gas, 2nd", "Services, nearest first"});
  for (const auto& service : reply.at("services"))
    EXPECT_NE(text.find(service.at("customer").get<std::string>()), std::string::npos);
  const auto words = test::words_of(*pdf);
  if (!words) FAIL() << "pdftotext is not installed";
  const auto paper = size_of(Paper::a4);
  EXPECT_EQ(test::crowding(*words, paper.w, paper.h), "");
}

TEST(RunSheet, HasAPageForTheWayBack) {
  const auto pdf = run_sheet(reply_of("plan/between_two_houses"), letter_us);
  ASSERT_TRUE(pdf) << pdf.error().where;
  TEXT_OF(text, *pdf);
  expect_all(text,
             {"Test of the new pipe", "90.0 psig", "Joints: each looked at",
              "To decide before test and joints", "1. From A, valve V1 to the vent at the work",
              "Gas back, slowly", "Between 90.0 psig and"});
}

TEST(PurgeSheet, RefusesAReplyThatIsNone) {
  auto reply = reply_of("purge/stack");
  reply["findings"] = "none";
  EXPECT_FALSE(purge_sheet(reply, letter_us));
  auto test = reply_of("pressure-test/cooled");
  test.erase("verdict");
  EXPECT_FALSE(test_sheet(test, letter_us));
}

}  // namespace
}  // namespace bellhole::sheets
