// The lists of a relight and the chart of a timeline, from the replies of the contract corpus.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "sheets/flow.hpp"
#include "sheets/relight_lists.hpp"
#include "sheets/timeline_sheet.hpp"
#include "tests/unit/sheets/support.hpp"
#include "wire/relight.hpp"

namespace bellhole::sheets {
namespace {

const Options letter_us{Paper::letter, units::System::us},
    a4_metric{Paper::a4, units::System::metric};

wire::Json reply_of(const std::string& name) {
  const std::string path = std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/" + name + ".json";
  return wire::Json::parse(std::ifstream(path)).at("reply");
}

std::string text_of(const std::string& pdf) {
  const auto text = test::text_of(pdf);
  EXPECT_TRUE(text) << "pdftotext is not installed";
  return text.value_or("");
}

void expect_tidy(const std::string& pdf, const Options& options) {
  const auto words = test::words_of(pdf);
  ASSERT_TRUE(words) << "pdftotext is not installed";
  const auto paper = size_of(options.paper);
  EXPECT_EQ(test::crowding(*words, paper.w, paper.h), "");
}

TEST(RelightSheet, HasAListToSignAndARoundForEachTechnician) {
  for (const Options& options : {letter_us, a4_metric}) {
    const auto pdf = relight_sheet(reply_of("relight/before_anything"), options);
    ASSERT_TRUE(pdf) << pdf.error().where << pdf.error().value;
    expect_tidy(*pdf, options);
    const std::string text = text_of(*pdf);
    for (const char* part : {"List of meters to shut", "counted again by another", "round 1",
                             "round 2", "locked, tagged", "UNDECIDED", "Quay Street"})
      EXPECT_NE(text.find(part), std::string::npos) << part;
  }
}

TEST(RelightSheet, IsOnePageThatSaysSoWhereNobodyIsOut) {
  wire::Json reply = reply_of("relight/before_anything");
  reply["visits"] = wire::Json::array();
  reply["streets"] = wire::Json::array();
  const auto pdf = relight_sheet(reply, letter_us);
  ASSERT_TRUE(pdf);
  EXPECT_EQ(test::pages_of(*pdf), 1u);
  const std::string text = text_of(*pdf);
  EXPECT_NE(text.find("No meter to shut, and none to light"), std::string::npos);
  EXPECT_EQ(text.find("Streets to walk"), std::string::npos);
}

TEST(RelightSheet, NamesTheSwappedMeterOnItsFirstPage) {
  const wire::Json reply = reply_of("relight/one_meter_swapped");
  const std::string text = text_of(*relight_sheet(reply, letter_us));
  EXPECT_NE(text.find("NOT THE SAME"), std::string::npos);
  for (const char* side : {"not_shut", "not_affected"}) {
    const std::string id = reply.at("shut").at(side).at(0).get<std::string>();
    EXPECT_NE(text.find(id), std::string::npos) << id;
  }
}

TEST(RelightTable, IsReadBackAsTheListOfShutMeters) {
  const wire::Json reply = reply_of("relight/half_lit");
  const auto csv = relight_csv(reply);
  ASSERT_TRUE(csv);
  const auto rows = wire::read_shut_list(*csv);
  ASSERT_TRUE(rows) << rows.error().where << ": " << rows.error().value;
  // Those still to be visited, then those lit already.
  const wire::Json &visits = reply.at("visits"), &lit = reply.at("lit");
  ASSERT_EQ(rows->size(), visits.size() + lit.size());
  for (std::size_t i = 0; i < rows->size(); ++i) {
    const wire::Json& listed = i < visits.size() ? visits[i] : lit[i - visits.size()];
    EXPECT_EQ((*rows)[i].row.id, listed.at("id"));
  }
}

TEST(RelightTable, KeepsASpreadsheetFromReckoning) {
  wire::Json reply = reply_of("relight/before_anything");
  reply["visits"][0]["street"] = "=1+1, \"Quay\"";
  const auto csv = relight_csv(reply);
  ASSERT_TRUE(csv);
  EXPECT_NE(csv->find("\"'=1+1, \"\"Quay\"\"\""), std::string::npos) << *csv;
}

TEST(TimelineSheet, HasChartStepsAndWhoIsOut) {
  for (const Options& options : {letter_us, a4_metric}) {
    const auto pdf = timeline_sheet(reply_of("timeline/planned"), options);
    ASSERT_TRUE(pdf) << pdf.error().where << pdf.error().value;
    const std::string text = text_of(*pdf);
    for (const char* part : {"Timeline of the job", "Crew 1", "Technicians", "7 out", "Every step",
                             "Who is out", "hold point", "What would save time"})
      EXPECT_NE(text.find(part), std::string::npos) << part;
  }
}

TEST(TimelineSheet, TheCriticalPathIsBlackAndNotColoured) {
  const auto svg = timeline_svg(reply_of("timeline/planned"));
  ASSERT_TRUE(svg);
  EXPECT_NE(svg->find("<svg"), std::string::npos);
  for (const char* colour : {"rgb(100%,0%", "rgb(0%,100%", "rgb(0%,0%,100%"})
    EXPECT_EQ(svg->find(colour), std::string::npos);
  EXPECT_EQ(*svg, *timeline_svg(reply_of("timeline/planned"))) << "the same bytes";
}

TEST(TimelineSheet, APartThatIsMissingIsTrouble) {
  wire::Json reply = reply_of("timeline/planned");
  reply.erase("steps");
  EXPECT_FALSE(timeline_sheet(reply, letter_us));
  EXPECT_FALSE(timeline_svg(reply));
  reply = reply_of("relight/before_anything");
  reply.erase("visits");
  EXPECT_FALSE(relight_sheet(reply, letter_us));
  EXPECT_FALSE(relight_csv(reply));
}

}  // namespace
}  // namespace bellhole::sheets
