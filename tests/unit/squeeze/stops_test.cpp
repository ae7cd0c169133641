#include "squeeze/stops.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "squeeze/gap.hpp"

namespace bellhole::squeeze {
namespace {

Length in(double value) { return Length::from_si(value * 0.0254); }

struct Pipe {
  pipe::Size size;
  std::optional<double> ratio;
  pipe::Walls walls;
  std::optional<Fraction> least;

  StopQuestion question() const {
    return {.size = size,
            .ratio = ratio,
            .walls = walls,
            .basis = Basis::minimum,
            .most = Fraction::from_si(0.30),
            .least = least};
  }
};

Pipe printed(std::string_view text, double ratio) {
  const auto size = pipe::read_size(text, "size").value();
  return {size, ratio, pipe::walls_by_ratio(size, ratio, "dr").value(), std::nullopt};
}

Pipe measured(std::string_view text, double wall_in) {
  const auto size = pipe::read_size(text, "size").value();
  const std::array readings{in(wall_in)};
  return {size, std::nullopt, pipe::walls_measured(size, readings, "wall").value(), std::nullopt};
}

StopAnswer look(const Pipe& pipe, Stop stop) { return look_at(stop, pipe.question()); }

TEST(Stops, TheStopForTheRatioFits) {
  EXPECT_TRUE(look(printed("IPS 8", 11), {"A", in(1.100), {}, {}}).fits);
  EXPECT_TRUE(look(printed("IPS 8", 11), {"A", in(1.0976), {}, {}}).fits) << "exactly at the limit";
  EXPECT_FALSE(look(printed("IPS 8", 11), {"A", in(1.097), {}, {}}).fits)
      << "not rounded in its favour";
}

TEST(Stops, ADr11StopOnThinnerPipeIsSeenThrough) {
  const Stop stop{"S-8-11", in(1.100), {}, {}};
  const StopAnswer on_13_5 = look(printed("IPS 8", 13.5), stop);
  EXPECT_FALSE(on_13_5.fits);
  EXPECT_NE(on_13_5.because.find("DR 11"), std::string::npos) << on_13_5.because;
  EXPECT_NEAR(on_13_5.does.at_min.si(), 1 - 1.1 / (2 * 0.639), 1e-9);
  const StopAnswer on_17 = look(printed("IPS 8", 17), stop);
  EXPECT_FALSE(on_17.fits);
  EXPECT_LT(on_17.does.at_min.si(), 0.0) << "the thinnest wall is not even closed";
  EXPECT_NE(on_17.because.find("do not meet"), std::string::npos) << on_17.because;
  const StopAnswer on_11_5 = look(printed("IPS 8", 11.5), {"S", in(1.0976), {}, {}});
  EXPECT_FALSE(on_11_5.fits) << "11 is not 11.5";
}

TEST(Stops, ALabelForAnotherPipeDoesNotFit) {
  EXPECT_NE(look(printed("IPS 8", 11), {"A", in(1.100), {"IPS 6"}, {}}).because.find("IPS 6"),
            std::string::npos);
  EXPECT_NE(look(printed("IPS 8", 11), {"A", in(1.100), {}, {11.5}}).because.find("11.5"),
            std::string::npos);
  EXPECT_TRUE(look(printed("IPS 8", 11), {"A", in(1.150), {"IPS 8"}, {11, 11.5}}).fits)
      << "its label names this pipe";
}

TEST(Stops, OverTheLimitOrWiderThanThePipeNeverFits) {
  EXPECT_NE(
      look(printed("IPS 8", 11), {"A", in(1.0), {"IPS 8"}, {11}}).because.find("over the limit"),
      std::string::npos);
  EXPECT_NE(look(printed("IPS 8", 11), {"A", in(8.625), {}, {}}).because.find("not narrower"),
            std::string::npos);
}

TEST(Stops, ALeastCompressionIsAskedOnTheThinnestWall) {
  Pipe pipe = printed("IPS 8", 13.5);
  const Stop labelled{"S", in(1.100), {"IPS 8"}, {11, 13.5}};
  EXPECT_TRUE(look(pipe, labelled).fits) << "the company says that it is for this pipe";
  pipe.least = Fraction::from_si(0.10);
  EXPECT_TRUE(look(pipe, labelled).fits) << "13.9 %";
  EXPECT_FALSE(look(pipe, {"S-8-11", in(1.100), {}, {}}).fits)
      << "enough to shut, and still the stop of another pipe";
  pipe.least = Fraction::from_si(0.20);
  EXPECT_FALSE(look(pipe, labelled).fits);
}

TEST(Stops, AMeasuredWallIsWhatCounts) {
  EXPECT_TRUE(look(measured("IPS 8", 0.800), {"S", in(1.125), {"IPS 8"}, {11}}).fits);
  EXPECT_FALSE(look(measured("IPS 8", 0.800), {"S", in(1.100), {"IPS 8"}, {11}}).fits)
      << "31 % on this wall";
  EXPECT_FALSE(look(measured("IPS 8", 0.507), {"S", in(1.100), {"IPS 8"}, {11}}).fits)
      << "it is DR 17 pipe";
}

TEST(Stops, TheNarrowestThatFitsIsChosen) {
  const Pipe pipe = printed("IPS 8", 11);
  const std::array answers{look(pipe, {"wide", in(1.120), {}, {}}),
                           look(pipe, {"narrow", in(1.100), {}, {}}),
                           look(pipe, {"over", in(1.050), {}, {}})};
  ASSERT_TRUE(choose(answers));
  EXPECT_EQ(answers[*choose(answers)].stop.id, "narrow");
  EXPECT_FALSE(choose(std::span(answers).last(1)));
  EXPECT_FALSE(choose({}));
}

RC_GTEST_PROP(Stops, NoStopThatFitsBreaksTheLimitOrLeavesTheWallsApart, ()) {
  const auto size = *rc::gen::elementOf(pipe::sizes());
  const double ratio = *rc::gen::elementOf(pipe::ratios(size));
  const Pipe pipe{size, ratio, pipe::walls_by_ratio(size, ratio, "dr").value(), std::nullopt};
  const Length gap = size.od * (*rc::gen::inRange(1, 1200) / 1000.0);
  const StopAnswer answer = look(pipe, {"S", gap, {}, {}});
  RC_ASSERT(answer.fits == answer.because.empty());
  if (!answer.fits) return;
  RC_ASSERT(answer.does.at_min.si() <= 0.30 + 1e-9);
  RC_ASSERT(answer.does.at_min.si() > 0.0);
  for (const double other : pipe::ratios(size)) {
    const auto walls = pipe::walls_by_ratio(size, other, "dr").value();
    const double theirs = std::abs((gap - gap_for(Fraction::from_si(0.30), walls.minimum)).si());
    const double ours = std::abs((gap - gap_for(Fraction::from_si(0.30), pipe.walls.minimum)).si());
    RC_ASSERT(ours <= theirs + 1e-9);
  }
}

}  // namespace
}  // namespace bellhole::squeeze
