#include "findings/finding.hpp"

#include <gtest/gtest.h>

#include <set>

#include "findings/trouble.hpp"

namespace bellhole {
namespace {

TEST(Verdict, IsTheWorstGrade) {
  EXPECT_EQ(verdict_of({}), Verdict::nothing_found);
  EXPECT_EQ(verdict_of({{.grade = Grade::info}, {.grade = Grade::warn}}), Verdict::warn);
  EXPECT_EQ(verdict_of({{.grade = Grade::undecided}, {.grade = Grade::warn}}), Verdict::undecided);
  EXPECT_EQ(verdict_of({{.grade = Grade::undecided}, {.grade = Grade::halt}}), Verdict::halt);
}

TEST(Words, GoRound) {
  for (const Grade grade : {Grade::halt, Grade::undecided, Grade::warn, Grade::info}) {
    EXPECT_EQ(grade_from(to_string(grade)), grade);
  }
  for (const Evidence evidence :
       {Evidence::seen, Evidence::from_memory, Evidence::derived, Evidence::common_practice,
        Evidence::company, Evidence::maker, Evidence::entered}) {
    EXPECT_EQ(evidence_from(to_string(evidence)), evidence);
  }
  EXPECT_EQ(to_string(Verdict::nothing_found), "nothing_found");
  EXPECT_FALSE(grade_from("go"));
}

TEST(Codes, HaveOneNameEach) {
  std::set<std::string_view> names;
  int count = 0;
  for (int number = 100; number < 1000; ++number) {
    const auto name = to_string(static_cast<Code>(number));
    if (name == "bug" && number != static_cast<int>(Code::bug)) continue;
    ++count;
    EXPECT_TRUE(names.insert(name).second) << name;
  }
  EXPECT_EQ(count, 27);
}

}  // namespace
}  // namespace bellhole
