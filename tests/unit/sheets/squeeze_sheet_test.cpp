#include "sheets/squeeze_sheet.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>

#include "sheets/flow.hpp"
#include "tests/unit/sheets/support.hpp"

namespace bellhole::sheets {
namespace {

const Options letter_us{Paper::letter, units::System::us},
    a4_metric{Paper::a4, units::System::metric};

wire::Json finding(std::string_view grade, const std::string& says) {
  return {{"rule", "test"},       {"grade", grade},
          {"says", says},         {"action", "the engineer decides"},
          {"source", "a source"}, {"evidence", "seen"}};
}

#define TEXT_OF(name, pdf)                                  \
  const auto name##_read = test::text_of(pdf);              \
  if (!name##_read) FAIL() << "pdftotext is not installed"; \
  const std::string& name = *name##_read

TEST(SqueezeSheet, IsOnePageOnBothPapers) {
  for (const Options& options : {letter_us, a4_metric}) {
    const auto pdf = squeeze_sheet(test::sample_squeeze(), options);
    ASSERT_TRUE(pdf) << pdf.error().where;
    EXPECT_EQ(test::pages_of(*pdf), 1u);
    const auto words = test::words_of(*pdf);
    if (!words) FAIL() << "pdftotext is not installed";
    const auto paper = size_of(options.paper);
    EXPECT_EQ(test::crowding(*words, paper.w, paper.h), "");
  }
}

TEST(SqueezeSheet, PrintsWhatTheReplySays) {
  const auto pdf = squeeze_sheet(test::sample_squeeze(), letter_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  for (const char* part :
       {"IPS 4 DR 11.5 PE2708", "S-4-11.5 0.550 in", "13.97 mm", "gap wanted 0.547 in", "29.7 %",
        "33.7 %", "37.3 %", "most 30.0 %", "55.0 psig", "60.0 °F", "NOT SHUT", "Wait 15 min",
        "14 min 54 s", "46.5 in and 52.5 in", "fasten the ground lead", "NOTHING FOUND AGAINST IT",
        "Taken for granted", "page 1 of 1"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
}

TEST(SqueezeSheet, UsesMetricUnitsWhenAsked) {
  const auto pdf = squeeze_sheet(test::sample_squeeze(), a4_metric);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  for (const char* part : {"13.97 mm", "0.550 in", "bar(g)", "15.6 °C", "mm/min"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
}

TEST(SqueezeSheet, WithNothingKnownButThePipeIsStillOnePage) {
  // What a bare profile leaves open: a dozen unset limits and half a dozen things not told.
  auto reply = test::sample_squeeze();
  reply["verdict"] = "undecided";
  reply["tool"] = nullptr;
  reply["findings"] = wire::Json::array();
  for (int i = 0; i < 12; ++i) {
    reply["findings"].push_back(finding(
        "undecided", fmt::format("no limit set for some quantity or other number {}: decide", i)));
  }
  for (int i = 0; i < 6; ++i) {
    auto one = finding("undecided",
                       fmt::format("the {}th thing that nobody has told is not looked at", i));
    one["action"] = fmt::format("measure thing {} and enter it: --thing-{}", i, i);
    reply["findings"].push_back(one);
  }
  for (const Options& options : {letter_us, a4_metric}) {
    const auto pdf = squeeze_sheet(reply, options);
    ASSERT_TRUE(pdf);
    EXPECT_EQ(test::pages_of(*pdf), 1u);
    const auto words = test::words_of(*pdf);
    if (!words) FAIL() << "pdftotext is not installed";
    const auto paper = size_of(options.paper);
    EXPECT_EQ(test::crowding(*words, paper.w, paper.h), "");
  }
}

TEST(SqueezeSheet, GivesNoPermission) {
  auto reply = test::sample_squeeze();
  const auto pdf = squeeze_sheet(reply, letter_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  static const std::regex promises("\\b(go|safe|safely|proved|proven|bypass|OK)\\b",
                                   std::regex::icase);
  std::smatch found;
  EXPECT_FALSE(std::regex_search(text, found, promises)) << found.str();
}

TEST(SqueezeSheet, IsTheSameBytesEveryTimeAndKnowsNoClock) {
  const auto first = squeeze_sheet(test::sample_squeeze(), letter_us);
  const auto second = squeeze_sheet(test::sample_squeeze(), letter_us);
  ASSERT_TRUE(first);
  EXPECT_TRUE(*first == *second);
  EXPECT_EQ(first->find("CreationDate"), std::string::npos);
  EXPECT_NE(first->find("Squeeze sheet: IPS 4"), std::string::npos);  // its title
  EXPECT_NE(first->find("/FontFile"), std::string::npos);
  EXPECT_NE(first->find("DejaVuSans"), std::string::npos);
}

TEST(SqueezeSheet, TheWorstFindingStandsFirst) {
  auto reply = test::sample_squeeze();
  reply["verdict"] = "halt";
  reply["findings"] = {finding("info", "a note"), finding("warn", "a warning"),
                       finding("halt", "the reason")};
  const auto pdf = squeeze_sheet(reply, letter_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  const auto halt = text.find("HALT"), reason = text.find("The reason"),
             warning = text.find("A warning"), note = text.find("A note");
  EXPECT_LT(halt, reason);
  EXPECT_LT(reason, warning);
  EXPECT_LT(warning, note);
  EXPECT_NE(note, std::string::npos);
}

TEST(SqueezeSheet, ALongRecordOfTheToolIsStillOnePageAndWhole) {
  auto reply = test::sample_squeeze();
  auto& rows = reply["tool"]["instructions"];
  for (const char* stage :
       {"before", "lowering", "during", "holding", "opening", "after", "storing"}) {
    rows[stage] = wire::Json::array();
    for (int i = 0; i < 3; ++i)
      rows[stage].push_back(fmt::format("row {}{} of the record, as long as they are", stage, i));
  }
  for (const Options& options : {letter_us, a4_metric}) {
    const auto pdf = squeeze_sheet(reply, options);
    ASSERT_TRUE(pdf);
    EXPECT_EQ(test::pages_of(*pdf), 1u);
    TEXT_OF(text, *pdf);
    for (const char* stage : {"before", "storing"})
      for (int i = 0; i < 3; ++i)
        EXPECT_NE(text.find(fmt::format("{}{}", stage, i)), std::string::npos) << stage << i;
  }
}

TEST(SqueezeSheet, ManyFindingsGoOverleafAndNoneIsDropped) {
  auto reply = test::sample_squeeze();
  reply["verdict"] = "undecided";
  reply["findings"] = wire::Json::array();
  for (int i = 0; i < 80; ++i) {
    auto one = finding(
        "undecided", fmt::format("finding number x{}x stands open and says so at some length", i));
    one["action"] = fmt::format("person {} decides", i);
    reply["findings"].push_back(one);
  }
  const auto pdf = squeeze_sheet(reply, letter_us);
  ASSERT_TRUE(pdf);
  EXPECT_GE(test::pages_of(*pdf), 2u);
  TEXT_OF(text, *pdf);
  for (int i = 0; i < 80; ++i) EXPECT_NE(text.find(fmt::format("x{}x", i)), std::string::npos) << i;
  const auto words = test::words_of(*pdf);
  const auto paper = size_of(Paper::letter);
  EXPECT_EQ(test::crowding(*words, paper.w, paper.h), "");
}

TEST(SqueezeSheet, UnsetLimitsAreSaidOnceTogether) {
  auto reply = test::sample_squeeze();
  reply["verdict"] = "undecided";
  reply["findings"] = {
      finding("undecided", "first"), finding("undecided", "no limit set for warmest pipe: decide"),
      finding("undecided",
              "no limit set for coldest pipe: decide; published, for reference only: "
              "50.0 degF (ASTM F1734, 5.3: a remark)")};
  const auto pdf = squeeze_sheet(reply, letter_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  EXPECT_NE(text.find("No limit set for: Warmest pipe; coldest pipe (published: 50.0 °F, "
                      "ASTM F1734)."),
            std::string::npos)
      << text;
}

TEST(SqueezeSheet, WithoutWallOrStopSaysSo) {
  auto reply = test::sample_squeeze();
  for (const char* key : {"stop", "stop_gap_m", "gap_m", "wall_compression", "close", "open",
                          "tool", "exposed_m", "hole"})
    reply[key] = nullptr;
  for (const char* key :
       {"wall_min_m", "wall_nominal_m", "wall_max_m", "pressure_pa_gauge", "ratio"})
    reply["pipe"][key] = nullptr;
  reply["stops"] = wire::Json::array();
  reply["at_limit"]["wait_s"] = nullptr;
  reply["hold_most_s"] = nullptr;
  reply["stop_gap_on"]["compression"] = nullptr;
  const auto pdf = squeeze_sheet(reply, letter_us);
  ASSERT_TRUE(pdf) << pdf.error().where;
  TEXT_OF(text, *pdf);
  for (const char* part : {"no gap can be told", "no pace can be told", "no limit set: decide",
                           "not known", "not given"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
}

TEST(SqueezeSheet, NoStopFits) {
  auto reply = test::sample_squeeze();
  reply["stop"] = nullptr;
  const auto pdf = squeeze_sheet(reply, letter_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  EXPECT_NE(text.find("None of the stops fits. Gap wanted"), std::string::npos);
  EXPECT_NE(text.find("Looked at: S-3-11 0.450 in"), std::string::npos);
}

TEST(SqueezeSheet, NeedsVerdictAndPipe) {
  for (const char* key : {"verdict", "pipe"}) {
    auto reply = test::sample_squeeze();
    reply.erase(key);
    const auto pdf = squeeze_sheet(reply, letter_us);
    ASSERT_FALSE(pdf) << key;
    EXPECT_EQ(pdf.error().code, Code::unreadable_document);
    EXPECT_EQ(pdf.error().where, key);
  }
}

TEST(SqueezeSheet, AnyDamagedReplyIsPaperOrTrouble) {
  const auto reply = test::sample_squeeze();
  // Each value in turn is gone, and then of one of the wrong kinds.
  const std::vector<wire::Json> wrong{"text", -1e300, wire::Json::array(), wire::Json::object(),
                                      true};
  std::size_t refused = 0, turn = 0;
  for (const std::string& where : test::pointers_in(reply)) {
    for (const wire::Json& value : {wire::Json(nullptr), wrong[turn++ % wrong.size()]}) {
      auto damaged = reply;
      damaged[wire::Json::json_pointer(where)] = value;
      const auto pdf = squeeze_sheet(damaged, letter_us);
      if (pdf) continue;
      ++refused;
      EXPECT_EQ(pdf.error().code, Code::unreadable_document) << where;
      EXPECT_FALSE(pdf.error().where.empty());
    }
  }
  EXPECT_GT(refused, 40u);
}

}  // namespace
}  // namespace bellhole::sheets
