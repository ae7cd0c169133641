// The pipe's design pressure by the form that the profile names, and the line pressure against it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pipe/rating.hpp"
#include "squeeze/work.hpp"

namespace bellhole::squeeze {
namespace {

using procedure::Ruling;

Finding rating_finding(std::string rule, Grade grade, std::string says, const Rated& rated) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.quantity = "line pressure";
  finding.unit_si = kinds::GaugePressure::symbol;
  finding.source = rated.source;
  finding.about = "pressure";
  return finding;
}

/// The ratio that the rating stands on: the printed one, or the thinnest wall measured where that
/// is worse.
std::optional<double> rated_ratio(const Work& work) {
  const Found& found = work.sheet.pipe;
  std::optional<double> ratio = found.ratio;
  if (!found.readings.empty() && work.sheet.walls) {
    const double measured = found.size.od / work.sheet.walls->minimum;
    ratio = ratio ? std::max(*ratio, measured) : measured;
  }
  return ratio;
}

/// The case without dated conditions: what the profile says of pipe made before all of them.
procedure::Case undated(const Work& work) {
  procedure::Case old = work.in;
  const auto long_ago = static_cast<double>(procedure::days_from_civil(1900, 1, 1));
  old[procedure::Ranged::made] = procedure::Between{long_ago, long_ago};
  return old;
}

/// Whether the walls allow the higher factor of newer pipe.
bool wall_allows(const Work& work, const Ruling& wall) {
  if (!work.sheet.walls || wall.unconfirmed_law() || !wall.doubtful.empty()) return false;
  const auto least = wall.as<kinds::Length>();
  constexpr double hair_m = 1e-9;
  return least && work.sheet.walls->minimum.si() >= least->si() - hair_m;
}

struct Factor {
  double used = 0.0;
  std::optional<double>
      open;  ///< a higher factor that would hold if something undecided were settled
  std::string why_open;
  std::string source;
};

std::optional<Factor> design_factor(const Work& work) {
  const Ruling plain = work.profile.ruling("pipe.design_factor", undated(work));
  const Ruling dated = work.profile.ruling("pipe.design_factor", work.in);
  if (!plain.number() || !dated.number()) {
    work.add(
        procedure::not_set(dated, {"design factor", std::nullopt, "profile", "", ""}, work.units));
    return std::nullopt;
  }
  Factor factor{.used = *plain.number(),
                .open = std::nullopt,
                .why_open = {},
                .source = plain.used()->source};
  factor.used = std::min(factor.used, *dated.number());
  if (*dated.number() <= factor.used) {
    work.note(dated.used());
    return factor;
  }
  const Ruling wall = work.profile.ruling("pipe.design_wall_least", work.in);
  if (dated.doubtful.empty() && !dated.unconfirmed_law() && wall_allows(work, wall)) {
    factor.used = *dated.number();
    factor.source = dated.used()->source;
    work.note(dated.used());
    work.note(wall.used());
  } else {
    work.note(plain.used());
    factor.open = dated.number();
    factor.why_open = wall.used() == nullptr ? "no least wall is set for it"
                      : wall.unconfirmed_law()
                          ? "the least wall that it asks is from memory and confirmed by nobody"
                      : dated.unconfirmed_law()
                          ? "it is from memory and confirmed by nobody"
                          : "the wall is thinner than it asks, or not known well enough";
  }
  return factor;
}

std::optional<Stress> strength_us(const Work& work, Temperature temperature) {
  const Found& found = work.sheet.pipe;
  if (found.material == nullptr || !found.material->hdb_73) return std::nullopt;
  std::optional<Stress> warm = found.hdb_140;
  const bool from_table = !warm && found.material->hdb_140;
  if (from_table) warm = found.material->hdb_140->value;
  const auto strength = pipe::hdb_at(found.material->hdb_73->value, warm, temperature);
  if (strength && from_table && temperature > pipe::hdb_low_temperature &&
      found.material->hdb_140->evidence == Evidence::from_memory) {
    Finding finding =
        rating_finding("pipe.strength", Grade::undecided,
                       fmt::format("above 73 degF the strength of {} rests on {} at 140 degF, "
                                   "which depends on the compound",
                                   found.material->name, units::print(*warm, work.units)),
                       work.sheet.rated);
    finding.source = found.material->hdb_140->source;
    finding.evidence = Evidence::from_memory;
    finding.quantity = "hydrostatic design basis at 140 degF";
    finding.about = "material";
    finding.action = "take the value from the pipe's own listing: --hdb-140";
    work.add(std::move(finding));
  }
  return strength;
}

/// Caps the design pressure by the row for `in`; says so where none is set.
void cap_at(const Work& work, const procedure::Case& in, GaugePressure computed, std::string form) {
  Rated& rated = work.sheet.rated;
  const Ruling ruling = work.profile.ruling("pipe.design_cap", in);
  work.note(ruling.used());
  const auto most = ruling.as<kinds::GaugePressure>();
  if (!most)
    work.add(procedure::not_set(ruling, {"design pressure", std::nullopt, "profile", "", ""},
                                work.units));
  rated.pressure = most ? std::min(computed, *most) : computed;
  rated.form =
      most ? fmt::format("{}, at most {}", form, units::print(*most, work.units)) : std::move(form);
}

void note_strength(const Work& work, Stress strength, Temperature temperature) {
  const Found& found = work.sheet.pipe;
  Rated& rated = work.sheet.rated;
  rated.strength = strength;
  rated.strength_source = found.material->hdb_73->source;
  rated.strength_evidence = found.material->hdb_73->evidence;
  if (temperature <= pipe::hdb_low_temperature) return;
  const bool listed = found.hdb_140.has_value();
  rated.strength_source = listed ? "the pipe's own listing" : found.material->hdb_140->source;
  rated.strength_evidence = listed ? Evidence::entered : found.material->hdb_140->evidence;
}

/// Says that a higher factor would carry the line pressure, if what keeps it open were settled.
void say_open_factor(const Work& work, const Factor& factor, GaugePressure higher) {
  const auto& pressure = work.sheet.pipe.pressure;
  if (!pressure || *pressure <= *work.sheet.rated.pressure || *pressure > higher) return;
  Finding finding = rating_finding(
      "pipe.design_factor", Grade::undecided,
      fmt::format("a design factor of {:g} would give {}, but {}", *factor.open,
                  units::print(higher, work.units, units::Toward::down), factor.why_open),
      work.sheet.rated);
  finding.quantity = "design factor";
  finding.unit_si = "1";
  finding.value_si = factor.open;
  finding.limit_si = factor.used;
  finding.about = "profile";
  finding.action = "the engineer confirms the law's conditions in the profile";
  work.add(std::move(finding));
}

void rate_us(const Work& work, double ratio) {
  const Temperature temperature = work.sheet.pipe.temperature.value_or(pipe::hdb_low_temperature);
  if (!work.sheet.pipe.temperature) {
    work.sheet.assumed.emplace_back(
        "pipe_temperature: not given; the design pressure is that at 73 degF (23 degC) and below");
  }
  const auto strength = strength_us(work, temperature);
  const auto factor = design_factor(work);
  if (!strength || !factor) return;
  note_strength(work, *strength, temperature);
  work.sheet.rated.source = factor->source;
  // The higher cap of newer pipe stands on the same conditions as its higher factor.
  cap_at(work, factor->open ? undated(work) : work.in,
         pipe::design_pressure_us(*strength, ratio, factor->used),
         fmt::format("2 x {} x {:g} / ({:.4g} - 1)", units::print(*strength, work.units),
                     factor->used, ratio));
  if (factor->open)
    say_open_factor(work, *factor, pipe::design_pressure_us(*strength, ratio, *factor->open));
}

void rate_iso(const Work& work, double ratio) {
  const pipe::Material* material = work.sheet.pipe.material;
  if (material == nullptr || !material->mrs) return;
  const auto coefficient = work.ruling("pipe.design_coefficient");
  const auto derating = work.ruling("pipe.design_derating");
  for (const Ruling& ruling : {coefficient, derating}) {
    if (!ruling.number()) {
      work.add(procedure::not_set(
          ruling, {std::string(ruling.rule->asks), std::nullopt, "profile", "", ""}, work.units));
    } else {
      work.add(procedure::caveats(ruling, "profile", work.units));
    }
  }
  if (!coefficient.number() || !derating.number() || *coefficient.number() <= 0.0 ||
      *derating.number() <= 0.0)
    return;
  work.sheet.rated.source = coefficient.used()->source;
  work.sheet.rated.strength = material->mrs->value;
  work.sheet.rated.strength_source = material->mrs->source;
  work.sheet.rated.strength_evidence = material->mrs->evidence;
  const double c = *coefficient.number() * *derating.number();
  cap_at(work, work.in, pipe::design_pressure_iso(material->mrs->value, ratio, c),
         fmt::format("2 x {} / ({:g} x {:g} x ({:.4g} - 1))",
                     units::print(material->mrs->value, work.units), *coefficient.number(),
                     *derating.number(), ratio));
}

void say_not_rated(const Work& work) {
  Finding finding = rating_finding("pipe.design_pressure", Grade::undecided,
                                   "the pipe's design pressure cannot be told from what is known",
                                   work.sheet.rated);
  finding.action =
      "give ratio, material and temperature; above the listed temperature the pipe's own listing "
      "decides";
  finding.source = work.profile.title();
  work.add(std::move(finding));
}

void say_no_pressure(const Work& work) {
  Finding finding = rating_finding("pipe.pressure", Grade::undecided,
                                   "the line pressure is not known", work.sheet.rated);
  if (work.sheet.rated.pressure) finding.limit_si = work.sheet.rated.pressure->si();
  finding.action = "read the gauge: --pressure";
  finding.source = work.profile.title();
  work.add(std::move(finding));
}

void hold_design(const Work& work, GaugePressure pressure) {
  const Rated& rated = work.sheet.rated;
  if (!rated.pressure || pressure <= *rated.pressure) return;
  Finding finding = rating_finding(
      "pipe.design_pressure", Grade::halt,
      fmt::format("the line pressure of {} is over the pipe's design pressure of {} ({})",
                  units::print(pressure, work.units),
                  units::print(*rated.pressure, work.units, units::Toward::down), rated.form),
      rated);
  finding.value_si = pressure.si();
  finding.limit_si = rated.pressure->si();
  finding.action = "check pressure, size, ratio and material; tell gas control and the engineer";
  work.add(std::move(finding));
  doubt_unit(work, *rated.pressure);
}

void hold_maop(const Work& work, GaugePressure pressure) {
  const auto& maop = work.sheet.pipe.maop;
  if (!maop || pressure <= *maop) return;
  Finding finding = rating_finding(
      "pipe.maop", Grade::halt,
      fmt::format("the line pressure of {} is over the main's MAOP of {}",
                  units::print(pressure, work.units), units::print(*maop, work.units)),
      work.sheet.rated);
  finding.value_si = pressure.si();
  finding.limit_si = maop->si();
  finding.source = "MAOP as entered";
  finding.evidence = Evidence::entered;
  finding.action = "tell gas control now";
  work.add(std::move(finding));
  doubt_unit(work, *maop);
}

}  // namespace

void rate_pipe(const Work& work) {
  const auto ratio = rated_ratio(work);
  if (work.sheet.pipe.temperature) {
    const procedure::Held held{"pipe temperature", work.sheet.pipe.temperature->si(),
                               "pipe_temperature",
                               "the rating does not cover this pipe: the engineer decides", ""};
    work.judge("pipe.design_temperature_least", held);
    work.judge("pipe.design_temperature_most", held);
  }
  const auto form = work.ruling("pipe.design_form");
  if (!form.word())
    work.add(
        procedure::not_set(form, {"design pressure", std::nullopt, "profile", "", ""}, work.units));
  if (ratio && form.word() == "us") rate_us(work, *ratio);
  if (ratio && form.word() == "iso") rate_iso(work, *ratio);
  if (!work.sheet.pipe.ratio && ratio && work.sheet.rated.pressure) {
    Finding finding = rating_finding("pipe.ratio", Grade::undecided,
                                     "the design pressure is reckoned on the thinnest measured "
                                     "wall: the printed ratio is not known",
                                     work.sheet.rated);
    finding.quantity = "ratio";
    finding.unit_si = "1";
    finding.value_si = ratio;
    finding.about = "dr";
    finding.action = "read the print line for DR or SDR";
    work.add(std::move(finding));
  }
  if (!work.sheet.rated.pressure) say_not_rated(work);
  const auto& pressure = work.sheet.pipe.pressure;
  if (!pressure) {
    say_no_pressure(work);
    return;
  }
  hold_design(work, *pressure);
  hold_maop(work, *pressure);
}

}  // namespace bellhole::squeeze
