#include "restore/join.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <tuple>
#include <vector>

#include "tests/unit/restore/profiles.hpp"
#include "units/parse.hpp"

namespace bellhole::restore {
namespace {

template <class Kind>
Quantity<Kind> read(const char* text) {
  return units::parse<Kind>(text, "test")->value;
}
double psi(GaugePressure p) { return p.si() / 6894.757293168361; }

JoinQuestion butt(const char* size, double ratio, const char* piston, const char* drag) {
  JoinQuestion q;
  q.pipe.size = *pipe::read_size(size, "size");
  q.pipe.ratio = ratio;
  q.pipe.material = *pipe::read_material("PE2708", "material");
  q.piston = read<kinds::Area>(piston);
  q.drag = read<kinds::PressureDifference>(drag);
  return q;
}

Joined ask(const JoinQuestion& q, const procedure::Profile& profile = shipped()) {
  return *join(q, profile, units::System::us);
}

bool has(const Joined& joined, std::string_view rule, Grade grade) {
  return std::ranges::any_of(joined.findings, [&](const Finding& finding) {
    return finding.rule == rule && finding.grade == grade;
  });
}

TEST(Join, GaugeIsForceOverPistonAndDrag) {
  // With 75 psi at the faces; the ring by OD / DR. Worked by hand.
  const auto at_75 = with({{"join.interfacial_most", {75.0, "psi"}}});
  EXPECT_NEAR(psi(*ask(butt("IPS 4", 11, "4.0in2", "20psi"), at_75).gauge_most), 118.6, 0.2);
  EXPECT_NEAR(psi(*ask(butt("IPS 6", 11.5, "4.0in2", "25psi"), at_75).gauge_most), 230.3, 0.5);
  EXPECT_NEAR(ask(butt("IPS 4", 11, "4.0in2", "20psi"), at_75).force_most->si() / 4.4482216, 394.0,
              1.0);
}

TEST(Join, TheWindowHoldsForEveryWall) {
  const Joined joined = ask(butt("IPS 8", 11, "4.71in2", "30psi"));
  const double drag = read<kinds::PressureDifference>("30psi").si();
  const double piston = read<kinds::Area>("4.71in2").si();
  const double psi_60 = read<kinds::GaugePressure>("60psig").si(),
               psi_90 = read<kinds::GaugePressure>("90psig").si();
  for (const Area area : {*joined.area_least, *joined.area_most}) {
    const auto at_faces = [&](GaugePressure gauge) {
      return (gauge.si() - drag) * piston / area.si();
    };
    EXPECT_GE(at_faces(*joined.gauge_least), psi_60 * (1 - 1e-12));
    EXPECT_LE(at_faces(*joined.gauge_most), psi_90 * (1 + 1e-12));
  }
}

TEST(Join, NoPressureSuitsAWallThatMayBeAnything) {
  const auto narrow =
      with({{"join.interfacial_least", {74.0, "psi"}}, {"join.interfacial_most", {75.0, "psi"}}});
  EXPECT_TRUE(has(ask(butt("IPS 4", 11, "4in2", "20psi"), narrow), "join.gauge", Grade::halt));
  JoinQuestion measured = butt("IPS 4", 11, "4in2", "20psi");
  measured.pipe.ratio.reset();
  measured.pipe.readings = {read<kinds::Length>("0.412in")};
  EXPECT_FALSE(has(ask(measured, narrow), "join.gauge", Grade::halt));
}

TEST(Join, CoolingIsByTheThickestWall) {
  const Joined joined = ask(butt("IPS 6", 11.5, "4in2", "25psi"));
  EXPECT_NEAR(joined.cooling->si() / 60.0, 11.0 * joined.walls->maximum.si() / 0.0254, 1e-9);
  EXPECT_GT(joined.cooling->si() / 60.0, 6.3) << "11 min per inch of 0.576 in";
  EXPECT_NEAR(joined.soak->si(), 0.0, 0.0) << "below 14 in the bead rules";
}

TEST(Join, BeadGrowsWithThePipe) {
  Length last;
  for (const char* size : {"IPS 1", "IPS 2", "IPS 4", "IPS 10"}) {
    const Joined joined = ask(butt(size, 11, "4in2", "25psi"));
    ASSERT_TRUE(joined.bead) << size;
    EXPECT_GT(*joined.bead, last) << size;
    last = *joined.bead;
  }
}

TEST(Join, ValuesFromMemoryAreUndecidedUntilTheCompanySetsThem) {
  JoinQuestion q = butt("IPS 4", 11, "4in2", "20psi");
  q.heater = read<kinds::Temperature>("425degF");
  q.ambient = read<kinds::Temperature>("70degF");
  EXPECT_TRUE(has(ask(q), "join.from_memory", Grade::undecided));
  const auto company = with({{"join.interfacial_least", {60.0, "psi"}},
                             {"join.interfacial_most", {90.0, "psi"}},
                             {"join.bead_least", {0.1875, "in"}},
                             {"join.per_wall", {1.0, "in"}},
                             {"join.soak", {0.0, "min"}},
                             {"join.cooling", {11.0, "min"}},
                             {"join.removal_most", {8.0, "s"}},
                             {"join.ambient_most", {100.0, "degF"}}});
  const Verdict verdict = verdict_of(ask(q, company).findings);
  EXPECT_TRUE(verdict == Verdict::info || verdict == Verdict::nothing_found)
      << "that a row is looser than the shipped one is a remark";
}

TEST(Join, TheHeaterIsAwayByTheThinnestWall) {
  // ASTM F2620, table of removal times by wall, from memory; walls as the size tables have them.
  const std::vector<std::tuple<const char*, double, double>> table{
      {"IPS 2", 11, 8.0}, {"IPS 4", 11, 10.0}, {"IPS 8", 11, 15.0}, {"IPS 12", 9, 20.0}};
  for (const auto& [size, ratio, seconds] : table) {
    const Joined joined = ask(butt(size, ratio, "4in2", "20psi"));
    ASSERT_TRUE(joined.removal) << size;
    EXPECT_NEAR(joined.removal->si(), seconds, 1e-12) << size;
  }
  JoinQuestion q = butt("IPS 4", 11, "4in2", "20psi");
  q.pipe.readings = {read<kinds::Length>("0.37in"), read<kinds::Length>("0.355in")};
  EXPECT_NEAR(ask(q).removal->si(), 8.0, 1e-12) << "the thinnest reading";
  q.pipe.readings = {read<kinds::Length>("0.15in")};
  EXPECT_FALSE(ask(q).removal) << "below the table";
  EXPECT_TRUE(has(ask(q), "join.removal_most", Grade::undecided));
}

TEST(Join, HeaterAndAirAreHeldAgainstTheirLimits) {
  JoinQuestion q = butt("IPS 4", 11, "4in2", "20psi");
  EXPECT_TRUE(has(ask(q), "join.heater_least", Grade::undecided)) << "not read";
  q.heater = read<kinds::Temperature>("380degF");
  EXPECT_TRUE(has(ask(q), "join.heater_least", Grade::halt));
  q.heater = read<kinds::Temperature>("470degF");
  EXPECT_TRUE(has(ask(q), "join.heater_most", Grade::halt));
  q.ambient = read<kinds::Temperature>("105degF");
  EXPECT_TRUE(has(ask(q), "join.ambient_most", Grade::halt));
}

TEST(Join, UnlikeOrUnknownMaterialsAreForThePeopleWhoKnow) {
  JoinQuestion q = butt("IPS 4", 11, "4in2", "20psi");
  q.other = *pipe::read_material("PE4710", "other");
  EXPECT_TRUE(has(ask(q), "join.material", Grade::undecided));
  q.other = nullptr;
  EXPECT_FALSE(has(ask(q), "join.material", Grade::undecided));
  q.pipe.material = nullptr;
  EXPECT_TRUE(has(ask(q), "join.material", Grade::undecided));
}

TEST(Join, FittingsAreTheirMakers) {
  JoinQuestion q = butt("IPS 4", 11, "4in2", "20psi");
  for (const JoinKind kind : {JoinKind::electrofusion, JoinKind::mechanical}) {
    q.kind = kind;
    const Joined joined = ask(q);
    EXPECT_TRUE(has(joined, "join.company_table", Grade::undecided));
    EXPECT_FALSE(joined.gauge_least);
  }
}

TEST(Join, RefusesWhatCannotBe) {
  JoinQuestion q = butt("IPS 4", 11, "4in2", "20psi");
  q.piston = Area();
  EXPECT_EQ(join(q, shipped(), units::System::us).error().where, "piston");
  q = butt("IPS 4", 11, "4in2", "20psi");
  q.drag = PressureDifference::from_si(-1.0);
  EXPECT_EQ(join(q, shipped(), units::System::us).error().where, "drag");
  q = butt("IPS 4", 11, "4in2", "20psi");
  q.pipe.ratio.reset();
  EXPECT_EQ(join(q, shipped(), units::System::us).error().code, Code::missing_value);
  q = butt("IPS 4", 11, "4in2", "20psi");
  q.piston.reset();
  EXPECT_TRUE(has(ask(q), "join.gauge", Grade::undecided));
  EXPECT_FALSE(ask(q).gauge_most);
}

}  // namespace
}  // namespace bellhole::restore
