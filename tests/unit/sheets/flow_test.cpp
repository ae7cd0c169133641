#include "sheets/flow.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "sheets/parts.hpp"
#include "tests/unit/sheets/support.hpp"

namespace bellhole::sheets {
namespace {

constexpr PaperSize paper{595.3, 841.9};

std::string words(std::size_t n, std::string_view stem) {
  std::string all;
  for (std::size_t i = 0; i < n; ++i)
    all += fmt::format("{}{}", i == 0 ? "" : " ", fmt::format("{}{}", stem, i));
  return all;
}

Result<std::string> set(const std::function<void(Flow&)>& fill) {
  return set_on_paper(paper, {"test", "", ""}, [&](Canvas& canvas, std::size_t pages) {
    Flow flow(canvas, {paper, "head", "right", "foot", pages});
    fill(flow);
    return flow.close();
  });
}

void expect_uncrowded(const std::string& pdf) {
  const auto found = test::words_of(pdf);
  if (!found) FAIL() << "pdftotext is not installed";
  EXPECT_EQ(test::crowding(*found, paper.w, paper.h), "");
}

TEST(Flow, ALongParagraphGoesOnOverleafAndLosesNothing) {
  const auto pdf = set([](Flow& flow) { flow.paragraph(words(3000, "w")); });
  ASSERT_TRUE(pdf);
  EXPECT_GE(test::pages_of(*pdf), 3u);
  const auto text = test::text_of(*pdf);
  if (!text) FAIL() << "pdftotext is not installed";
  for (int i = 0; i < 3000; ++i)
    ASSERT_NE(text->find(fmt::format("w{}", i)), std::string::npos) << i;
  const auto pages = test::pages_of(*pdf);
  EXPECT_NE(text->find(fmt::format("page {} of {}", pages, pages)), std::string::npos);
  expect_uncrowded(*pdf);
}

TEST(Flow, AWordWiderThanThePageIsBroken) {
  const auto pdf = set([](Flow& flow) { flow.paragraph(std::string(900, 'M')); });
  ASSERT_TRUE(pdf);
  expect_uncrowded(*pdf);
}

TEST(Flow, ATableRepeatsItsHeadAndSplitsARowTallerThanAPage) {
  const auto pdf = set([](Flow& flow) {
    Table table{{{"first", 1}, {"second", 2}}, {}};
    for (int i = 0; i < 80; ++i) table.rows.push_back({fmt::format("row{}", i), words(12, "c")});
    table.rows.push_back({"tall", words(1500, "t")});
    flow.table(table);
  });
  ASSERT_TRUE(pdf);
  const auto text = test::text_of(*pdf);
  if (!text) FAIL() << "pdftotext is not installed";
  std::size_t heads = 0;
  for (auto at = text->find("first second"); at != std::string::npos;
       at = text->find("first second", at + 1))
    ++heads;
  EXPECT_EQ(heads, test::pages_of(*pdf));
  EXPECT_NE(text->find("t1499"), std::string::npos);
  expect_uncrowded(*pdf);
}

TEST(Flow, ColumnsAreEvenAndWhatFollowsStandsBelowBoth) {
  const auto pdf = set([](Flow& flow) {
    flow.columns(2, 14, [&] {
      for (int i = 0; i < 12; ++i) flow.paragraph(words(20, fmt::format("p{}x", i)));
    });
    flow.paragraph("after");
  });
  ASSERT_TRUE(pdf);
  EXPECT_EQ(test::pages_of(*pdf), 1u);
  const auto found = test::words_of(*pdf);
  if (!found) FAIL() << "pdftotext is not installed";
  EXPECT_EQ(test::crowding(*found, paper.w, paper.h), "");
  double left = 0, right = 0, after = 0;
  for (const auto& word : *found) {
    if (word.says == "after") after = word.y0;
    if (word.says.starts_with("p") && word.says.contains("x"))
      (word.x0 < paper.w / 2 ? left : right) = word.y1;
  }
  EXPECT_LT(std::abs(left - right), 60);
  EXPECT_GT(after, std::max(left, right) - 4);
}

TEST(Flow, ColumnsThatRunOnAreEvenOnTheLastPage) {
  const auto pdf = set([](Flow& flow) {
    flow.columns(2, 14, [&] {
      for (int i = 0; i < 60; ++i) flow.paragraph(words(30, fmt::format("p{}x", i)));
    });
    flow.paragraph("after");
  });
  ASSERT_TRUE(pdf);
  const auto found = test::words_of(*pdf);
  if (!found) FAIL() << "pdftotext is not installed";
  const std::size_t last = test::pages_of(*pdf);
  ASSERT_GT(last, 1u);
  double left = 0, right = 0;
  for (const auto& word : *found) {
    if (word.page != last || !word.says.starts_with("p") || !word.says.contains("x")) continue;
    (word.x0 < paper.w / 2 ? left : right) = word.y1;
  }
  EXPECT_GT(right, 0) << "the last page has both columns";
  EXPECT_LT(std::abs(left - right), 90);
}

TEST(Flow, NothingIsDrawnOverTheFoot) {
  EXPECT_TRUE(rc::check("columns anywhere on the page", [] {
    const auto lines = *rc::gen::inRange<std::size_t>(0, 70);
    const auto items = *rc::gen::inRange<std::size_t>(1, 30);
    const auto length = *rc::gen::inRange<std::size_t>(1, 60);
    const auto pdf = set([&](Flow& flow) {
      for (std::size_t i = 0; i < lines; ++i) flow.paragraph("line");
      flow.columns(2, 14, [&] {
        for (std::size_t i = 0; i < items; ++i) {
          if (i % 7 == 3) flow.heading("heading");
          flow.paragraph(words(length, "k"), fine_type);
        }
      });
      flow.paragraph("end");
    });
    RC_ASSERT(pdf.has_value());
    const auto found = test::words_of(*pdf);
    if (found) RC_ASSERT(test::crowding(*found, paper.w, paper.h) == "");
  }));
}

}  // namespace
}  // namespace bellhole::sheets
