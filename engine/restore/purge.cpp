#include "restore/purge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "procedure/judge.hpp"

namespace bellhole::restore {
namespace {

using units::print;
using units::Toward;

Result<bool> check(const PurgeQuestion& q) {
  const auto positive = [](double si, const char* where) -> Result<bool> {
    if (si > 0.0) return true;
    return trouble(Code::out_of_range, where, "nought or less", "give a positive amount");
  };
  BELLHOLE_TRY(bore, positive(q.bore.si(), "bore"));
  BELLHOLE_TRY(length, positive(q.length.si(), "length"));
  BELLHOLE_TRY(speed, positive(q.speed ? q.speed->si() : 1.0, "speed"));
  if (q.stack && (!(q.stack->bore.si() > 0.0) || !(q.stack->height.si() > 0.0)))
    return trouble(Code::out_of_range, "stack", "nought or less",
                   "give the stack's bore and the height of its mouth: --stack-bore 1in "
                   "--stack-height 8ft");
  for (const VentReading& reading : q.readings) {
    if (!(reading.share >= 0.0 && reading.share <= 1.0))
      return trouble(Code::out_of_range, "reading", fmt::format("{:g} %", reading.share * 100.0),
                     "a share lies between 0 and 100 %");
  }
  return bore && length && speed;
}

Finding purge_finding(std::string rule, Grade grade, std::string says, std::string action,
                      std::string about) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.quantity = "purge";
  finding.source = "arithmetic on what was entered";
  finding.action = std::move(action);
  finding.about = std::move(about);
  return finding;
}

class Purger {
 public:
  Purger(const PurgeQuestion& question, const procedure::Profile& profile, units::System system)
      : q_(question), profile_(profile), system_(system) {}

  Result<Purged> answer() {
    find_least();
    if (!q_.speed && !out_.least_speed)
      return trouble(Code::missing_value, "speed", "",
                     "give the speed of the purge: --speed 3ft/s");
    out_.speed = q_.speed ? *q_.speed : *out_.least_speed;
    if (!q_.speed) out_.assumed.emplace_back("at the least speed, since none was given");
    if (q_.speed && out_.least_speed) judge_speed();
    find_amounts();
    find_mixing();
    find_vent();
    judge_instrument();
    judge_end();
    out_.cautions = {
        "Air leaves at the vent, outdoors, up, away from openings and wires; nobody smokes, starts "
        "or switches anything there.",
        "The vent is metal, earthed and manned, with a valve and an extinguisher; plastic is kept "
        "wet.",
        "Every branch and dead end keeps its air until it is purged itself.",
        "The company's written procedure, the law and the qualified person decide."};
    return std::move(out_);
  }

 private:
  std::optional<double> number(std::string_view rule, const std::string& about) {
    const auto ruling = profile_.ruling(rule, {});
    const auto value = ruling.number();
    append(out_.findings,
           value ? procedure::caveats(ruling, about, system_)
                 : Findings{procedure::not_set(
                       ruling, {std::string(ruling.rule->asks), std::nullopt, about, "", ""},
                       system_)});
    return value;
  }

  void find_least() {
    const auto floor = number("purge.speed_least", "speed");
    number("purge.froude_least", "speed");
    out_.least_speed = least_purge_speed(q_.bore, q_.gas, profile_);
    if (!out_.least_speed) return;
    out_.least_by = out_.least_speed->si() > floor.value_or(0.0)
                        ? "so that the lighter gas does not run along the top of this bore"
                        : "whatever the bore";
  }

  void judge_speed() {
    if (*q_.speed >= *out_.least_speed) return;
    out_.slug_asked = true;
    const auto ruling = profile_.ruling("purge.speed_least", {});
    Finding finding = purge_finding(
        "purge.speed_least", ruling.row != nullptr ? ruling.row->grade : Grade::undecided,
        fmt::format("{} is slower than {}: the gas may run along the top and leave air under it",
                    print(*q_.speed, system_), print(*out_.least_speed, system_, Toward::up)),
        "purge faster: open the vent further or raise the inlet pressure; else put a slug between",
        "speed");
    finding.value_si = q_.speed->si();
    finding.limit_si = out_.least_speed->si();
    finding.unit_si = kinds::Speed::symbol;
    if (ruling.row != nullptr) {
      finding.source = ruling.row->source;
      finding.evidence = ruling.row->evidence;
    }
    out_.findings.push_back(std::move(finding));
  }

  /// Of a volume at nought gauge.
  [[nodiscard]] StdVolume at_nought(double m3) const {
    return StdVolume::from_si(m3 * (q_.barometer.si() / q_.base.pressure.si()) *
                              (q_.base.temperature.si() / q_.temperature.si()));
  }

  void find_amounts() {
    const double d = q_.bore.si();
    const Area area = Area::from_si(std::numbers::pi / 4.0 * d * d);
    out_.volume = area * q_.length;
    out_.flow_m3_per_s = area.si() * out_.speed.si();
    out_.time = q_.length / out_.speed;
    if (const auto volumes = number("purge.volumes", "volume")) {
      out_.time_planned = out_.time * *volumes;
      out_.gas_used = at_nought(*volumes * out_.volume.si());
      out_.gas_lost = at_nought(std::max(*volumes - 1.0, 0.0) * out_.volume.si());
    }
    if (q_.pack_to)
      out_.pack = StdVolume::from_si(out_.volume.si() * q_.pack_to->si() / q_.base.pressure.si());
  }

  void find_mixing() {
    const auto flowing = gas::flowing(q_.gas, q_.temperature);
    out_.mixed = mixing({q_.bore, q_.length, out_.speed, q_.roughness,
                         flowing.viscosity_pa_s / flowing.density(q_.barometer.si())});
    out_.slug_least = out_.mixed.one_to_99();
    out_.slug_gas = at_nought(out_.volume.si() * (out_.slug_least / q_.length));
    if (out_.mixed.as_measured) return;
    out_.findings.push_back(purge_finding(
        "purge.mixing", Grade::warn,
        fmt::format("at a Reynolds number of {:.0f} the mixed length is less certain: reckon with "
                    "up to twice {}",
                    out_.mixed.reynolds, print(out_.mixed.one_to_99(), system_, Toward::up)),
        "go by the readings at the vent, not by the clock", "speed"));
  }

  /// Size and height of the stack against the profile, and what drives the purge through it.
  void find_vent() {
    const auto held = [&](const char* rule, const char* quantity, std::optional<Length> value,
                          const char* to_know) {
      append(out_.findings,
             procedure::judge(profile_.ruling(rule, {}),
                              {quantity, value ? std::optional(value->si()) : std::nullopt, "stack",
                               "take a larger stack", to_know},
                              system_));
    };
    const auto of = [&](Length PurgeStack::* which) {
      return q_.stack ? std::optional((*q_.stack).*which) : std::nullopt;
    };
    held("purge.vent_bore_least", "bore of the stack", of(&PurgeStack::bore), "--stack-bore 1in");
    held("purge.vent_height_least", "mouth of the stack above the ground", of(&PurgeStack::height),
         "--stack-height 8ft");
    if (!q_.stack) return;
    const auto heavy = air(q_.temperature);
    out_.foot = at_foot(*q_.stack, heavy, out_.flow_m3_per_s, q_.barometer);
    if (!out_.foot) {
      out_.findings.push_back(
          purge_finding("purge.vent_narrow", Grade::halt,
                        fmt::format("no pressure drives {} in the main through a stack of {}",
                                    print(out_.speed, system_), print(q_.stack->bore, system_)),
                        "take a wider stack", "stack"));
      return;
    }
    out_.inlet = at_feed(q_.bore, q_.length, q_.roughness, heavy, out_.flow_m3_per_s, *out_.foot,
                         q_.barometer);
    judge_inlet();
  }

  void judge_inlet() {
    if (q_.line && *out_.inlet <= *q_.line) return;
    const std::string needs = print(*out_.inlet, system_, Toward::up);
    out_.findings.push_back(purge_finding(
        "purge.inlet", q_.line ? Grade::halt : Grade::undecided,
        q_.line
            ? fmt::format("the purge takes {} at the feed, and the feed has {}", needs,
                          print(*q_.line, system_, Toward::down))
            : fmt::format("the purge takes {} at the feed; what the feed has is not given", needs),
        q_.line ? "take a wider stack, or a slug at a lower speed"
                : "read it: --line-pressure 55psig",
        "feed"));
  }

  void judge_instrument() {
    if (q_.readings.empty() || q_.instrument == Instrument::thermal_conductivity ||
        q_.instrument == Instrument::infrared)
      return;
    const bool blind = q_.instrument == Instrument::catalytic;
    out_.findings.push_back(purge_finding(
        "purge.instrument", blind ? Grade::halt : Grade::undecided,
        blind ? "an instrument that burns its sample cannot read rich gas: what it shows above the "
                "lower explosive limit is no reading"
              : "what the instrument at the vent works by is not told",
        "read percent gas by volume, with an instrument made for it: --instrument "
        "thermal_conductivity",
        "instrument"));
  }

  void judge_end() {
    const auto least = number("purge.end_gas", "readings");
    const auto wanted = number("purge.end_readings", "readings");
    const bool lel = std::ranges::any_of(q_.readings, &VentReading::of_lel);
    if (lel) {
      out_.ended = false;
      out_.findings.push_back(purge_finding(
          "purge.lel", Grade::halt,
          "a reading in % LEL cannot end a purge to gas: it stands at full scale from a twentieth "
          "of gas upwards, and falls again in rich gas",
          "read percent gas by volume, with an instrument made for it", "readings"));
    } else if (!q_.readings.empty() && least && wanted) {
      const auto count = static_cast<std::ptrdiff_t>(*wanted);
      const auto enough = std::ranges::ssize(q_.readings) >= count &&
                          std::all_of(q_.readings.end() - count, q_.readings.end(),
                                      [&](const VentReading& r) { return r.share >= *least; });
      if (q_.instrument == Instrument::not_told)
        out_.ended = enough ? std::nullopt : std::optional(false);
      else
        out_.ended = enough && q_.instrument != Instrument::catalytic;
      if (!enough)
        out_.findings.push_back(purge_finding(
            "purge.end", Grade::halt,
            fmt::format("not ended: the last {} readings must each be {:g} % gas or more", count,
                        *least * 100.0),
            "go on purging and read again", "readings"));
    }
    out_.says = fmt::format(
        "One pipe volume takes {} at {}; the piece that is neither air nor gas is then {} long.",
        print(out_.time, system_, Toward::up), print(out_.speed, system_),
        print(out_.mixed.one_to_99(), system_, Toward::up));
  }

  const PurgeQuestion& q_;
  const procedure::Profile& profile_;
  units::System system_;
  Purged out_;
};

}  // namespace

std::optional<Speed> least_purge_speed(Length bore, const gas::Gas& gas,
                                       const procedure::Profile& profile) {
  const auto floor = profile.ruling("purge.speed_least", {}).number();
  const auto froude = profile.ruling("purge.froude_least", {}).number();
  if (!floor && !froude) return std::nullopt;
  const double lighter = 2.0 * gas::standard_gravity * (1.0 - gas.gravity) / (1.0 + gas.gravity);
  return Speed::from_si(
      std::max(floor.value_or(0.0), froude.value_or(0.0) * std::sqrt(lighter * bore.si())));
}

Result<Purged> purge(const PurgeQuestion& question, const procedure::Profile& profile,
                     units::System system) {
  BELLHOLE_TRY(checked, check(question));
  static_cast<void>(checked);
  return Purger(question, profile, system).answer();
}

}  // namespace bellhole::restore
