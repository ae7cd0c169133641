#include "network/check.hpp"

#include "network/checker.hpp"

namespace bellhole::network {
namespace checks {

Finding& Checker::say(const char* rule, Grade grade, std::string about, std::string says,
                      std::string action) {
  Finding finding;
  finding.rule = std::string("network.") + rule;
  finding.grade = grade;
  finding.says = std::move(says);
  finding.about = std::move(about);
  finding.action = std::move(action);
  finding.source = "the map's own records";
  finding.evidence = Evidence::derived;
  findings_.push_back(std::move(finding));
  return findings_.back();
}

void Checker::unknown(const char* rule, const Group& group, const std::string& what,
                      const std::string& action) {
  if (group.ids.empty()) return;
  auto& finding =
      say(rule, Grade::undecided, group.all(), fmt::format("{}: {}", what, group.few()), action);
  finding.quantity = "number of elements";
  finding.value_si = static_cast<double>(group.ids.size());
  finding.unit_si = "1";
}

void Checker::above_maop(const std::string& what, GaugePressure pressure, Index tier,
                         const char* verb) {
  const GaugePressure maop = n_.tiers.maop[at(tier)];
  if (!known(pressure) || !known(maop) || pressure <= maop) return;
  auto& finding =
      say("above_maop", Grade::halt, what,
          fmt::format("{} {} {}, more than the MAOP {} of tier {}.", what, verb, print(pressure),
                      units::print(maop, system_, units::Toward::down), n_.tiers.id[at(tier)]),
          "correct the record, or have the pressure set down, before anything is planned on it");
  finding.quantity = "set pressure against MAOP";
  finding.value_si = pressure.si();
  finding.limit_si = maop.si();
  finding.unit_si = "Pa (gauge)";
}

void Checker::station(const std::string& what, Index on, Length where) {
  const Length length = n_.pipes.length[at(on)];
  if (where.si() <= length.si() + limits_.line_end.si()) return;
  auto& finding = say("station_beyond", Grade::halt, what + ", " + pipe(on),
                      fmt::format("{} stands at {} on {}, which is {} long.", what, print(where),
                                  pipe(on), print(length)),
                      "correct the station");
  finding.quantity = "station along the pipe";
  finding.value_si = where.si();
  finding.limit_si = length.si();
  finding.unit_si = "m";
}

}  // namespace checks

Findings check(const Network& network, units::System system, const CheckLimits& limits) {
  Findings findings;
  checks::check_grid(network, system, limits, findings);
  checks::check_equipment(network, system, limits, findings);
  return findings;
}

}  // namespace bellhole::network
