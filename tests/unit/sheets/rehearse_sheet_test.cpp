#include "sheets/rehearse_sheet.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>

#include "sheets/flow.hpp"
#include "tests/unit/sheets/support.hpp"

namespace bellhole::sheets {
namespace {

const Options letter_us{Paper::letter, units::System::us},
    a4_metric{Paper::a4, units::System::metric};

/// The reply of the contract: a plan of the small ring, rehearsed through a morning.
wire::Json sample() {
  std::ifstream file(std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/rehearse/a_morning.json");
  return wire::Json::parse(file).at("reply");
}

std::string text(const std::string& pdf) {
  const auto read = test::text_of(pdf);
  EXPECT_TRUE(read) << "pdftotext is not installed";
  return read.value_or("");
}

TEST(RehearseSheet, NothingLiesOnAnythingElseOrBeyondTheMargin) {
  for (const Options& options : {letter_us, a4_metric}) {
    const auto pdf = rehearse_sheet(sample(), options);
    ASSERT_TRUE(pdf) << pdf.error().where;
    const auto words = test::words_of(*pdf);
    ASSERT_TRUE(words) << "pdftotext is not installed";
    const auto paper = size_of(options.paper);
    EXPECT_EQ(test::crowding(*words, paper.w, paper.h), "");
  }
}

TEST(RehearseSheet, NamesEveryGaugeEveryStepAndEveryWayBack) {
  const auto reply = sample();
  const auto pdf = rehearse_sheet(reply, letter_us);
  ASSERT_TRUE(pdf);
  const std::string says = text(*pdf);
  for (const auto& gauge : reply.at("gauges"))
    EXPECT_NE(says.find(gauge.at("at").get<std::string>()), std::string::npos) << gauge.at("at");
  for (const auto& step : reply.at("steps")) {
    const std::string begins = step.at("begins_clock").get<std::string>();
    EXPECT_NE(says.find(begins), std::string::npos) << begins;
  }
  EXPECT_NE(says.find("Going back, on the clock"), std::string::npos);
  EXPECT_NE(says.find("the gauge decides"), std::string::npos);
}

TEST(RehearseSheet, APointOfNoReturnAndWhatGoesWrongAreSaid) {
  auto reply = sample();
  auto& way = reply["ways_back"][0];
  way["no_return"] = true;
  way["short_s"] = 7200;
  way["short_clock"] = "10:00";
  way["customer"] = "c-9";
  reply["wrong"] = {{{"kind", "customer_short"},
                     {"at_s", 7200},
                     {"at_clock", "10:00"},
                     {"step", "cut"},
                     {"draw", "high"},
                     {"customer", "c-9"},
                     {"node", nullptr},
                     {"gauge", nullptr},
                     {"pressure_pa_gauge", 100000.0},
                     {"limit_pa_gauge", nullptr},
                     {"at_once", true}}};
  const auto pdf = rehearse_sheet(reply, a4_metric);
  ASSERT_TRUE(pdf);
  const std::string says = text(*pdf);
  for (const char* part :
       {"POINT OF NO RETURN", "customer c-9 down to 1.0", "limit not set: decide", "out at once"})
    EXPECT_NE(says.find(part), std::string::npos) << part;
}

TEST(RehearseSheet, GivesNoPermission) {
  const auto pdf = rehearse_sheet(sample(), letter_us);
  ASSERT_TRUE(pdf);
  static const std::regex promises("\\b(safe|safely|proved|proven|OK)\\b", std::regex::icase);
  std::smatch found;
  const std::string says = text(*pdf);
  EXPECT_FALSE(std::regex_search(says, found, promises)) << found.str();
}

TEST(RehearseSheet, ThePictureIsTheSameBytesEveryTimeAndHasEveryGauge) {
  const auto first = rehearse_svg(sample(), letter_us), second = rehearse_svg(sample(), letter_us);
  ASSERT_TRUE(first);
  EXPECT_TRUE(*first == *second);
  EXPECT_NE(first->find("<svg"), std::string::npos);
  auto without = sample();
  without["gauges"] = wire::Json::array();
  const auto empty = rehearse_svg(without, letter_us);
  ASSERT_TRUE(empty);
  EXPECT_LT(empty->size(), first->size());
}

TEST(RehearseSheet, WhatIsNotAsTheContractSaysIsNamed) {
  auto reply = sample();
  reply["gauges"][0]["stretches"][0]["at_s"] = "soon";
  const auto pdf = rehearse_sheet(reply, letter_us);
  ASSERT_FALSE(pdf);
  EXPECT_EQ(pdf.error().where, "gauges[0].stretches[0].at_s");
  EXPECT_FALSE(rehearse_sheet(wire::Json::object(), letter_us));
}

}  // namespace
}  // namespace bellhole::sheets
