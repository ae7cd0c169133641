// The record on paper, from the replies that stand in the contract corpus.
#include "sheets/record_sheet.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "sheets/flow.hpp"
#include "sheets/record_table.hpp"
#include "tests/unit/sheets/support.hpp"

namespace bellhole::sheets {
namespace {

const Options letter_us{Paper::letter, units::System::us},
    a4_metric{Paper::a4, units::System::metric};
constexpr const char* all_sheets[] = {"record", "squeeze", "test",    "purge",
                                      "outage", "as-laid", "handover"};

wire::Json reply(const std::string& name) {
  std::ifstream file(std::string(BELLHOLE_SOURCE_DIR) + "/tests/contract/" + name + ".json");
  return wire::Json::parse(file).at("reply");
}

struct Quay {
  wire::Json state = reply("job-state/quay_street"), audit = reply("job-audit/company"),
             handover = reply("job-handover/quay_street");
  [[nodiscard]] Record record() const { return {state, audit, handover}; }
};

TEST(RecordSheet, EverySheetStandsOnBothPapersAndIsTheSameAgain) {
  const Quay quay;
  for (const char* sheet : all_sheets) {
    for (const Options& options : {letter_us, a4_metric}) {
      const auto pdf = record_sheet(quay.record(), sheet, options);
      ASSERT_TRUE(pdf) << sheet << ": " << pdf.error().where << " " << pdf.error().value;
      EXPECT_EQ(*pdf, *record_sheet(quay.record(), sheet, options)) << "no clock in it";
      const auto words = test::words_of(*pdf);
      if (!words) FAIL() << "pdftotext is not installed";
      const auto paper = size_of(options.paper);
      EXPECT_EQ(test::crowding(*words, paper.w, paper.h), "") << sheet;
    }
  }
}

std::string text_of(const char* sheet, const Options& options) {
  const Quay quay;
  const auto pdf = record_sheet(quay.record(), sheet, options);
  EXPECT_TRUE(pdf);
  const auto text = test::text_of(pdf.value_or(""));
  EXPECT_TRUE(text) << "pdftotext is not installed";
  return text.value_or("");
}

TEST(RecordSheet, TheRecordSaysWhatTheLogSays) {
  const std::string text = text_of("record", letter_us);
  for (const char* part :
       {"Quay Street, hit by a digger", "emergency work", "took 82.0 s", "118.6 s", "0.53 in/min",
        "not answered", "IPS 4 DR 11.5 PE2708", "let-by read again", "P-8", "phone-1", "T-4/2",
        "C-101", "23.5 ft", "wrong house number"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
}

TEST(RecordSheet, HeadsStandAsTheyAreTyped) {
  const Quay quay;
  const std::string text = text_of("record", letter_us);
  for (const auto& head : quay.state.at("heads")) {
    const auto at = text.find(head.get<std::string>());
    ASSERT_NE(at, std::string::npos) << head << " in " << text;
    EXPECT_NE(text[at + head.get<std::string>().size()], '.') << head;
  }
  EXPECT_EQ(text.find("answere-"), std::string::npos) << "no column breaks the words it is for";
}

TEST(RecordSheet, TheHandOverIsOnePageInLargeType) {
  const Quay quay;
  const auto pdf = record_sheet(quay.record(), "handover", letter_us);
  EXPECT_EQ(test::pages_of(*pdf), 1u);
  EXPECT_LE(quay.handover.at("read_aloud_s").get<double>(), 90.0);
}

TEST(RecordSheet, NoWordOnItPermits) {
  for (const char* sheet : all_sheets) {
    const std::string text = text_of(sheet, letter_us);
    for (const char* word : {" OK ", "approved", " safe ", " proved "})
      EXPECT_EQ(text.find(word), std::string::npos) << sheet << word;
  }
}

TEST(RecordSheet, AReplyThatIsNoneIsRefused) {
  const Quay quay;
  EXPECT_FALSE(record_sheet(quay.record(), "letter", letter_us));
  wire::Json broken = quay.state;
  broken["shutoffs"][0].erase("id");
  EXPECT_FALSE(record_sheet({broken, quay.audit, quay.handover}, "record", letter_us));
}

TEST(RecordTable, IsRfc4180) {
  const Quay quay;
  const std::string csv = *record_csv(quay.record(), "record");
  EXPECT_TRUE(csv.starts_with("grade,at,by,device,rule,says,"));
  EXPECT_NE(csv.find("squeeze.closing_speed"), std::string::npos);
  // A row begins on each line that is not inside quotes, and has as many cells as the head.
  std::size_t cells = 1, head = 0;
  bool quoted = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    if (csv[i] == '"') quoted = !quoted;
    if (!quoted && csv[i] == ',') ++cells;
    if (!quoted && csv[i] == '\n') {
      ASSERT_EQ(csv[i - 1], '\r');
      if (head == 0) head = cells;
      ASSERT_EQ(cells, head) << csv.substr(i > 80 ? i - 80 : 0, 80);
      cells = 1;
    }
  }
  EXPECT_FALSE(quoted);
  for (const char* sheet : all_sheets) EXPECT_TRUE(record_csv(quay.record(), sheet)) << sheet;
  EXPECT_FALSE(record_csv(quay.record(), "letter"));
  EXPECT_NE(record_csv(quay.record(), "squeeze")->find("0.0138938"), std::string::npos);
}

}  // namespace
}  // namespace bellhole::sheets
