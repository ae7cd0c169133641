#include "sheets/run_sheet.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>

#include "sheets/flow.hpp"
#include "tests/unit/sheets/support.hpp"

namespace bellhole::sheets {
namespace {

const Options a4_us{Paper::a4, units::System::us},
    letter_metric{Paper::letter, units::System::metric};

void expect_uncrowded(const std::string& pdf, Paper paper) {
  const auto words = test::words_of(pdf);
  if (!words) FAIL() << "pdftotext is not installed";
  const auto size = size_of(paper);
  EXPECT_EQ(test::crowding(*words, size.w, size.h), "");
}

#define TEXT_OF(name, pdf)                                  \
  const auto name##_read = test::text_of(pdf);              \
  if (!name##_read) FAIL() << "pdftotext is not installed"; \
  const std::string& name = *name##_read

TEST(RunSheet, IsFourSidesAndASheetForEachSqueeze) {
  const auto pdf = run_sheet(test::sample_plan(), a4_us);
  ASSERT_TRUE(pdf) << pdf.error().where;
  EXPECT_EQ(test::pages_of(*pdf), 6u);
  expect_uncrowded(*pdf, Paper::a4);
}

TEST(RunSheet, PrintsWhatTheReplySays) {
  const auto pdf = run_sheet(test::sample_plan(), a4_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  for (const char* part : {"Run sheet: planned shut-off",
                           "main M-5 at 262.5 ft, Bakers Row",
                           "Fed from 2 sides",
                           "from S-1 through R-1, backwards through R-2",
                           "HALT",
                           "The sensing tap of regulator R-2",
                           "the outside air stays above 18 °F",
                           "falls below 20.0 psig",
                           "rises above 60.0 psig",
                           "Squeeze M-5 at 59.1 ft",
                           "Stop S-4-11.5, gap 0.550 in",
                           "Shut valve V-3 on M-17 at 72.2 ft",
                           "21.0 ft E of tee T-12",
                           "Sensing tap T-R2 (M-5 at 200.1 ft)",
                           "Must not lose: clinic, dialysis",
                           "Customers out: 8, 1 that must not lose gas",
                           "C-0028, C-0029",
                           "If it fails:",
                           "2.9 ft M-31, IPS 8",
                           "Posts: manned before the start",
                           "Regulator watcher, regulator R-2: its tap lies on the part.",
                           "2 or 4 × tool T-4 (2 owned, 2 on the truck)",
                           "(owned: not counted, on the truck: not counted)",
                           "A, if one squeeze: dig 30.00 in from the new joint",
                           "A, if two squeezes: dig 43.50 in from the new joint",
                           "B, one squeeze: dig 30.00 in",
                           "spare 13.50 in",
                           "one hole for A and B",
                           "1 Brief everybody: own post, limits, stop word, way out.",
                           "3–4 Man posts P1 and P2",
                           "5 Squeeze A to the stops, by the pace of its sheet.",
                           "Squeeze crew at A; tell crew lead.",
                           "If not: Stop, hold, release at the sheet's pace.",
                           "To undo: 10 min; the gas lasts: 45 min.",
                           "tool T-4: stop when both stops bear",
                           "low expect high read",
                           "20.0 55.0 59.9",
                           "POINT OF NO RETURN.",
                           "Gauges: as before.",
                           "13 Tell gas control: all open, all posts down, times.",
                           "Valve V-3 was last operated in 2009",
                           "This plan beside the others",
                           "crew time",
                           "Taken for granted",
                           "Not checked here",
                           "sandholm.gpkg",
                           "2026-11-25T09:14:00Z",
                           "St Anne's clinic",
                           "page 1 of 6",
                           "page 6 of 6",
                           "3f2a9c0d5e71",
                           "One squeeze, or two with a vent between? No limit set: decide."})
    EXPECT_NE(text.find(part), std::string::npos) << part;
  static const std::regex scale("\\b(50|100|200) ft\\b");
  EXPECT_TRUE(std::regex_search(text, scale));
  static const std::regex promises("\\b(go|safe|safely|proved|proven|bypass|OK)\\b",
                                   std::regex::icase);
  std::smatch found;
  EXPECT_FALSE(std::regex_search(text, found, promises)) << found.str();
}

TEST(RunSheet, IsTheSameBytesEveryTimeWithTheDateOfTheDocument) {
  const auto first = run_sheet(test::sample_plan(), a4_us),
             second = run_sheet(test::sample_plan(), a4_us);
  ASSERT_TRUE(first);
  EXPECT_TRUE(*first == *second);
  EXPECT_NE(first->find("/CreationDate (20261125091400Z"), std::string::npos);
}

TEST(RunSheet, MetricOnLetter) {
  const auto pdf = run_sheet(test::sample_plan(), letter_metric);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  for (const char* part : {"Squeeze M-5 at 18.0 m", "bar(g)", "-8 °C"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
  expect_uncrowded(*pdf, Paper::letter);
}

TEST(RunSheet, AnEmergencyIsNeverHeldUpByASignature) {
  auto reply = test::sample_plan();
  reply["kind"] = "emergency";
  const auto pdf = run_sheet(reply, a4_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  for (const char* part : {"Shutting does not wait for this. Settle it before the cut.",
                           "The rest holds only if", "Tell gas control at once if"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
  for (const char* part : {"Start only if", "Do not begin"})
    EXPECT_EQ(text.find(part), std::string::npos) << part;
}

TEST(RunSheet, ThreeHundredCustomersAndTwelveShutOffsFlowOn) {
  auto reply = test::sample_plan();
  auto& plan = reply["plans"][0];
  for (int i = 0; i < 300; ++i) {
    plan["customers_out"].push_back({{"id", fmt::format("K-{:05}", i)},
                                     {"street", fmt::format("Long Street {}", i % 9)},
                                     {"pipe", "M-5"},
                                     {"station_m", i},
                                     {"must_not_lose", i % 25 == 0},
                                     {"why_not", i % 25 == 0 ? "school" : ""},
                                     {"cause", i % 2 == 0 ? "pocket" : "short"}});
  }
  for (char letter = 'D'; letter < 'M'; ++letter) {
    auto shutoff = plan["shutoffs"][0];
    shutoff["id"] = std::string(1, letter);
    shutoff["squeeze"] = nullptr;
    shutoff["street"] = "A Street With Quite A Long Name That Does Not Fit Beside Anything";
    plan["shutoffs"].push_back(shutoff);
  }
  plan["isolated"]["equipment"][0]["says"] = std::string(300, 'm');
  const auto pdf = run_sheet(reply, a4_us);
  ASSERT_TRUE(pdf);
  expect_uncrowded(*pdf, Paper::a4);
  TEXT_OF(text, *pdf);
  for (int i = 0; i < 300; ++i)
    EXPECT_NE(text.find(fmt::format("K-{:05}", i)), std::string::npos) << i;
  EXPECT_NE(text.find("Customers out: 308, 13 that must not lose gas"), std::string::npos);
  EXPECT_LT(text.find("K-00025"), text.find("K-00001"));  // must-not-lose first
}

TEST(RunSheet, LongWordsOfAReplyFlowOn) {
  auto reply = test::sample_plan();
  std::string saga;
  for (int i = 0; i < 1500; ++i) saga += fmt::format("saga{} ", i);
  reply["findings"][1]["says"] = saga;
  reply["plans"][0]["why"] = saga;
  reply["assumed"].push_back(std::string(2000, 'W'));
  const auto pdf = run_sheet(reply, a4_us);
  ASSERT_TRUE(pdf);
  expect_uncrowded(*pdf, Paper::a4);
  TEXT_OF(text, *pdf);
  EXPECT_NE(text.find("saga1499"), std::string::npos);
}

TEST(RunSheet, AGaugeIsShownAgainOnlyWhereItIsToReadDifferently) {
  auto reply = test::sample_plan();
  const auto count = [&](const char* words) -> std::optional<std::size_t> {
    const auto pdf = run_sheet(reply, a4_us);
    const auto text = test::text_of(*pdf);
    if (!text) return std::nullopt;
    std::size_t n = 0;
    for (auto at = text->find(words); at != std::string::npos; at = text->find(words, at + 1)) ++n;
    return n;
  };
  const auto before = count("A, gas side");
  if (!before) FAIL() << "pdftotext is not installed";
  EXPECT_EQ(*before, 4u) << "fitted, shut, without an expected value, opened";
  reply["plans"][0]["steps"][5]["gauges"][0]["expect_pa_gauge"] = 300000.0;
  EXPECT_EQ(*count("A, gas side"), 5u);
}

TEST(RunSheet, AnUnsetLimitOfAGaugeReadsDecideAndAnUnknownReadingADash) {
  const auto pdf = run_sheet(test::sample_plan(), a4_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  EXPECT_NE(text.find("A, gas side decide – 59.9"), std::string::npos);
}

TEST(RunSheet, EveryStepIsPrintedWithItsNumber) {
  auto reply = test::sample_plan();
  auto& steps = reply["plans"][0]["steps"];
  for (int i = 0; i < 90; ++i) {
    auto step = steps[9];
    step["id"] = fmt::format("extra-{}", i);
    step["does"] = fmt::format("Do the extra thing {} now.", i);
    steps.push_back(step);
  }
  const auto pdf = run_sheet(reply, letter_metric);
  ASSERT_TRUE(pdf);
  expect_uncrowded(*pdf, Paper::letter);
  TEXT_OF(text, *pdf);
  for (int i = 0; i < 90; ++i)
    EXPECT_NE(text.find(fmt::format("{} Do the extra thing {} now.", 14 + i, i)), std::string::npos)
        << i;
}

TEST(RunSheet, EmptyListsAreSaid) {
  auto reply = test::sample_plan();
  auto& plan = reply["plans"][0];
  plan["customers_out"] = wire::Json::array();
  plan["must_not_lose_out"] = wire::Json::array();
  plan["isolated"]["equipment"] = wire::Json::array();
  plan["lowest_pressure"] = nullptr;
  plan["highest_pressure"] = nullptr;
  plan["limit_temperature_k"] = nullptr;
  plan["limit_temperature_says"] = nullptr;
  reply["findings"] = wire::Json::array();
  reply["verdict"] = "nothing_found";
  reply["assumed"] = wire::Json::array();
  reply["feeds"] = nullptr;
  const auto pdf = run_sheet(reply, a4_us);
  ASSERT_TRUE(pdf) << pdf.error().where;
  TEXT_OF(text, *pdf);
  for (const char* part :
       {"Customers out: none", "None on the map", "outside air: no limit set: decide",
        "pressures of the network are not known: decide", "NOTHING FOUND AGAINST IT"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
}

TEST(RunSheet, WithoutAPlanSaysThat) {
  auto reply = test::sample_plan();
  reply["plans"] = wire::Json::array();
  const auto pdf = run_sheet(reply, a4_us);
  ASSERT_TRUE(pdf) << pdf.error().where;
  TEXT_OF(text, *pdf);
  EXPECT_NE(text.find("No shut-off plan was found"), std::string::npos);
  for (const char* part : {"Steps:", "Posts:", "Lay ready", "Holes,"})
    EXPECT_EQ(text.find(part), std::string::npos) << part;
}

TEST(RunSheet, FindingsOfPlanAndShutOffsStandBesideThoseOfTheReplyOnce) {
  auto reply = test::sample_plan();
  auto extra = reply["findings"][2];
  extra["says"] = "only the plan knows this";
  reply["plans"][0]["findings"].push_back(extra);
  extra["says"] = "only shut-off B knows this";
  reply["plans"][0]["shutoffs"][1]["findings"].push_back(extra);
  reply["plans"][0]["shutoffs"][0]["squeeze"]["verdict"] = "halt";
  const auto pdf = run_sheet(reply, a4_us);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  for (const char* part :
       {"only the plan knows this", "only shut-off B knows this", "HALT on its squeeze sheet"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
  const auto first = text.find("last operated in 2009");
  EXPECT_EQ(text.find("last operated in 2009", first + 1), std::string::npos);
}

TEST(RunSheet, PrintsThePlanAskedFor) {
  const auto pdf = run_sheet(test::sample_plan(), a4_us, 1);
  ASSERT_TRUE(pdf);
  TEXT_OF(text, *pdf);
  EXPECT_NE(text.find("Squeeze M-17 at 98.4 ft"), std::string::npos);
  const auto none = run_sheet(test::sample_plan(), a4_us, 2);
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().code, Code::contradiction);
}

TEST(RunSheet, AnyDamagedReplyIsPaperOrTrouble) {
  auto reply = test::sample_plan();
  reply["plans"].erase(1);
  for (auto& shutoff : reply["plans"][0]["shutoffs"]) shutoff["squeeze"] = nullptr;
  auto& steps = reply["plans"][0]["steps"];  // two of a kind are enough to damage
  steps = {steps[1], steps[4]};
  auto& sides = reply["plans"][0]["hole"]["sides"];
  sides = wire::Json::array({sides[0]});
  const std::vector<wire::Json> wrong{"text", -1e300, wire::Json::array(), wire::Json::object(),
                                      true};
  std::size_t refused = 0, turn = 0;
  for (const std::string& where : test::pointers_in(reply)) {
    for (const wire::Json& value : {wire::Json(nullptr), wrong[turn++ % wrong.size()]}) {
      auto damaged = reply;
      damaged[wire::Json::json_pointer(where)] = value;
      const auto pdf = run_sheet(damaged, a4_us);
      if (pdf) continue;
      ++refused;
      EXPECT_FALSE(pdf.error().where.empty());
    }
  }
  EXPECT_GT(refused, 40u);
}

}  // namespace
}  // namespace bellhole::sheets
