#include "restore/pressure_test.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "restore/test_work.hpp"

namespace bellhole::restore {

std::string_view words(End end) {
  constexpr std::array<std::string_view, 5> all{"a blank", "a cap", "a shut valve",
                                                "a shut valve against live gas", "a squeeze"};
  return all[static_cast<std::size_t>(end)];
}

Finding test_finding(std::string rule, Grade grade, std::string says, std::string action,
                     std::string about) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.quantity = "pressure test";
  finding.source = "arithmetic on what was entered";
  finding.action = std::move(action);
  finding.about = std::move(about);
  return finding;
}

std::optional<Temperature> TestWork::warmest() const {
  std::optional<Temperature> warmest = question.pipe.temperature;
  for (const auto* reading : {&question.start, &question.end}) {
    if (*reading && (*reading)->temperature)
      warmest = std::max(warmest.value_or((*reading)->temperature.value()),
                         (*reading)->temperature.value());
  }
  return warmest;
}

namespace {

/// "775 kJ, as much as 0.18 kg of TNT": 4.184 MJ/kg, the convention of the ton of TNT.
std::string energy_words(double joule) {
  constexpr double tnt = 4.184e6;
  return fmt::format("{:.0f} kJ, as much as {:.2g} kg of TNT", joule / 1e3, joule / tnt);
}

Result<bool> check(const TestQuestion& question) {
  const auto positive = [](const auto& value, const char* where) -> Result<bool> {
    if (!value || value->si() > 0.0) return true;
    return trouble(Code::out_of_range, where, "nought or less", "give a positive amount");
  };
  BELLHOLE_TRY(volume, positive(question.volume, "volume"));
  BELLHOLE_TRY(duration, positive(question.duration, "duration"));
  BELLHOLE_TRY(step, positive(question.gauge_step, "gauge_step"));
  BELLHOLE_TRY(leak, positive(question.leak, "leak"));
  for (const Pretested& pipe : question.pretested) {
    BELLHOLE_TRY(lasted, positive(pipe.duration, "pretested"));
    static_cast<void>(lasted);
  }
  for (const auto* reading : {&question.start, &question.end}) {
    if (*reading && (*reading)->temperature && !((*reading)->temperature->si() > 0.0))
      return trouble(Code::out_of_range, "start, end", "no temperature can be that",
                     "give the gas's temperature: 94psi 84degF");
  }
  return volume && duration && step && leak;
}

}  // namespace

Result<Tested> pressure_test(const TestQuestion& question, const procedure::Profile& profile,
                             units::System system) {
  BELLHOLE_TRY(checked, check(question));
  static_cast<void>(checked);
  Tested tested;
  procedure::Case in;
  in[procedure::Listed::size] = question.pipe.size.name;
  in[procedure::Ranged::od] =
      procedure::Between{question.pipe.size.od.si(), question.pipe.size.od.si()};
  if (question.pipe.material != nullptr)
    in[procedure::Listed::material] = std::string(question.pipe.material->name);
  if (question.pipe.made)
    in[procedure::Ranged::made] = procedure::Between{static_cast<double>(question.pipe.made->first),
                                                     static_cast<double>(question.pipe.made->last)};
  const TestWork work{question, profile, in, system, tested};
  BELLHOLE_TRY(window, set_window(work));
  static_cast<void>(window);
  judge_ends(work);
  judge_readings(work);
  finish_window(work);
  judge_other_way(work);
  find_energy(work);
  const std::string energy =
      tested.energy_j ? fmt::format("The compressed gas holds {}: keep off the ends.",
                                    energy_words(*tested.energy_j))
                      : "How much energy the gas holds is not known without the volume: keep off "
                        "the ends.";
  tested.cautions = {
      energy,
      "Raise the pressure slowly, ends restrained; nobody in the trench or in line with an end.",
      "A pressure without a leak says nothing beyond its pressure, its time and its temperature.",
      "Each tie-in joint outside this test is soaped at line pressure before backfill.",
      "The company's written procedure, the law and the qualified person decide."};
  return tested;
}

}  // namespace bellhole::restore
