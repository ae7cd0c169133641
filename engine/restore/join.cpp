#include "restore/join.hpp"

#include <fmt/format.h>

#include <array>
#include <numbers>

#include "procedure/judge.hpp"

namespace bellhole::restore {

std::string_view words(JoinKind kind) {
  constexpr std::array<std::string_view, 3> all{"butt fusion", "electrofusion", "mechanical"};
  return all[static_cast<std::size_t>(kind)];
}

namespace {

using units::print;
using units::Toward;

Result<bool> check(const JoinQuestion& q) {
  if (q.piston && !(q.piston->si() > 0.0))
    return trouble(Code::out_of_range, "piston", "nought or less",
                   "give the total effective piston area of the machine: --piston 4.71in2");
  if (q.drag && !(q.drag->si() >= 0.0))
    return trouble(Code::out_of_range, "drag", "below nought",
                   "give what the gauge reads while the carriage just moves: --drag 30psi");
  return true;
}

/// Area of the ring of a wall.
Area ring(Length od, Length wall) {
  return Area::from_si(std::numbers::pi * (od.si() - wall.si()) * wall.si());
}

class Joiner {
 public:
  Joiner(const JoinQuestion& question, const procedure::Profile& profile, units::System system)
      : q_(question), profile_(profile), system_(system) {
    in_[procedure::Listed::size] = q_.pipe.size.name;
    in_[procedure::Ranged::od] = procedure::Between{q_.pipe.size.od.si(), q_.pipe.size.od.si()};
    if (q_.pipe.material != nullptr)
      in_[procedure::Listed::material] = std::string(q_.pipe.material->name);
    if (q_.ambient)
      in_[procedure::Ranged::temperature] = procedure::Between{q_.ambient->si(), q_.ambient->si()};
  }

  Result<Joined> answer() {
    judge_materials();
    if (q_.kind == JoinKind::butt) {
      BELLHOLE_TRY(done, butt());
      static_cast<void>(done);
    } else {
      by_maker();
    }
    out_.cautions = {
        "Only a fuser who is qualified today, by the written and qualified joining procedure.",
        "Every joint is looked at all round by a qualified person; one that is in doubt is cut "
        "out.",
        "Never where the pipe was squeezed, nor within the clearance of a squeeze to come.",
        "Ends dry, clean and square; sheltered from wind and rain; static taken off before the "
        "cut.",
        "The company's joining procedure and the maker's instructions decide."};
    return std::move(out_);
  }

 private:
  void say(std::string rule, Grade grade, std::string says, std::string action, std::string about) {
    Finding finding;
    finding.rule = std::move(rule);
    finding.grade = grade;
    finding.says = std::move(says);
    finding.quantity = "joint";
    finding.source = "arithmetic on what was entered";
    finding.action = std::move(action);
    finding.about = std::move(about);
    out_.findings.push_back(std::move(finding));
  }

  /// The value of a rule. Its absence and its caveats become findings, and so does a value from
  /// memory that nobody has confirmed.
  template <class Kind>
  std::optional<Quantity<Kind>> used(std::string_view rule, const std::string& about) {
    const auto ruling = profile_.ruling(rule, in_);
    const auto value = ruling.template as<Kind>();
    if (!value) {
      append(out_.findings,
             {procedure::not_set(
                 ruling, {std::string(ruling.rule->asks), std::nullopt, about, "", ""}, system_)});
      return value;
    }
    append(out_.findings, procedure::caveats(ruling, about, system_));
    const procedure::Row& row = *ruling.used();
    if (row.evidence == Evidence::from_memory && !row.confirmed) from_memory_.push_back(row.rule);
    return value;
  }

  void judge_materials() {
    if (q_.pipe.material == nullptr) {
      say("join.material", Grade::undecided, "what the pipe is made of is not known",
          "read the print line; not every PE joins with every other", "material");
    } else if (q_.other != nullptr && q_.other != q_.pipe.material) {
      say("join.material", Grade::undecided,
          fmt::format("{} is joined to {}", q_.pipe.material->name, q_.other->name),
          "a procedure qualified for both, or a mechanical or electrofusion fitting: ask both "
          "makers",
          "material");
    }
    if (q_.pipe.material != nullptr && q_.other == nullptr)
      out_.assumed.push_back(
          fmt::format("both ends are {}, since no other was given", q_.pipe.material->name));
  }

  Result<bool> butt() {
    if (q_.pipe.readings.empty() && !q_.pipe.ratio)
      return trouble(Code::missing_value, "dr", "", "give DR or SDR, or a measured wall");
    BELLHOLE_TRY(walls, q_.pipe.readings.empty()
                            ? pipe::walls_by_ratio(q_.pipe.size, *q_.pipe.ratio, "dr")
                            : pipe::walls_measured(q_.pipe.size, q_.pipe.readings, "wall"));
    out_.walls = walls;
    out_.area_least = ring(q_.pipe.size.od, walls.minimum);
    out_.area_most = ring(q_.pipe.size.od, walls.maximum);
    find_pressure();
    find_heat();
    find_times();
    say_memory();
    out_.says = fmt::format(
        "Butt fusion of {}: gauge {} to {}, then {} of cooling under pressure.", q_.pipe.size.name,
        out_.gauge_least ? print(*out_.gauge_least, system_, Toward::up) : "not known",
        out_.gauge_most ? print(*out_.gauge_most, system_, Toward::down) : "not known",
        out_.cooling ? print(*out_.cooling, system_, Toward::up) : "a time not known");
    return true;
  }

  /// Pressure between the faces within its limits, whatever the wall: an empty window is said.
  void find_pressure() {
    const auto least = used<kinds::GaugePressure>("join.interfacial_least", "piston");
    const auto most = used<kinds::GaugePressure>("join.interfacial_most", "piston");
    if (least) out_.force_least = Force::from_si(least->si() * out_.area_most->si());
    if (most) out_.force_most = Force::from_si(most->si() * out_.area_least->si());
    if (!q_.piston)
      say("join.gauge", Grade::undecided,
          "the piston area of the machine is not given: the gauge cannot be told from the force",
          "read it on the machine's plate or in its manual: --piston 4.71in2", "piston");
    if (!q_.drag)
      say("join.gauge", Grade::undecided,
          "the drag of the carriage with this pipe in it is not measured",
          "move the carriage with the pipe clamped and read the gauge: --drag 30psi", "drag");
    if (!q_.piston || !q_.drag) return;
    const auto gauge = [&](Force force) {
      return GaugePressure::from_si(force.si() / q_.piston->si() + q_.drag->si());
    };
    if (out_.force_least) out_.gauge_least = gauge(*out_.force_least);
    if (out_.force_most) out_.gauge_most = gauge(*out_.force_most);
    if (out_.gauge_least && out_.gauge_most && *out_.gauge_least > *out_.gauge_most)
      say("join.gauge", Grade::halt,
          fmt::format("least gauge pressure {} is over the most, {}: no pressure suits every wall "
                      "that this pipe may have",
                      print(*out_.gauge_least, system_, Toward::up),
                      print(*out_.gauge_most, system_, Toward::down)),
          "measure the wall all round: --wall", "wall");
  }

  void find_heat() {
    out_.heater_least = used<kinds::Temperature>("join.heater_least", "heater");
    out_.heater_most = used<kinds::Temperature>("join.heater_most", "heater");
    if (out_.heater_least && out_.heater_most && *out_.heater_least > *out_.heater_most)
      say("join.heater", Grade::halt, "the coldest heater allowed is hotter than the hottest",
          "correct the profile", "heater");
    const procedure::Held read{
        "face of the heater", q_.heater ? std::optional(q_.heater->si()) : std::nullopt, "heater",
        "wait until both faces are right all over; a cold joint looks like a good one",
        "read both faces before every joint: --heater 425degF"};
    for (const char* rule : {"join.heater_least", "join.heater_most"}) {
      const auto ruling = profile_.ruling(rule, in_);
      if (ruling.number()) append(out_.findings, procedure::judge(ruling, read, system_));
    }
    out_.bead = used<kinds::Length>("join.bead_least", "bead");
  }

  void find_times() {
    // The thinnest wall cools first.
    in_[procedure::Ranged::wall] =
        procedure::Between{out_.walls->minimum.si(), out_.walls->minimum.si()};
    out_.removal = used<kinds::Duration>("join.removal_most", "heater");
    const auto per = used<kinds::Length>("join.per_wall", "wall");
    const auto soak = used<kinds::Duration>("join.soak", "heater");
    const auto cooling = used<kinds::Duration>("join.cooling", "cooling");
    if (per && per->si() > 0.0) {
      // The thickest wall takes longest.
      const double share = out_.walls->maximum.si() / per->si();
      if (soak) out_.soak = *soak * share;
      if (cooling) out_.cooling = *cooling * share;
    }
    const auto ambient = profile_.ruling("join.ambient_most", in_);
    append(out_.findings,
           procedure::judge(ambient,
                            {"air around the joint",
                             q_.ambient ? std::optional(q_.ambient->si()) : std::nullopt, "ambient",
                             "cool longer, by the company's procedure: the joint gives off its "
                             "heat more slowly",
                             "read it: --ambient 70degF"},
                            system_));
  }

  /// One finding for all values that stand in the profile from memory.
  void say_memory() {
    if (from_memory_.empty()) return;
    std::string list;
    for (const procedure::Rule* rule : from_memory_)
      list += (list.empty() ? "" : "; ") + std::string(rule->asks);
    say("join.from_memory", Grade::undecided,
        fmt::format("from memory, not from the text: {}", list),
        "the company puts the values of its qualified joining procedure into its profile, or "
        "confirms these with text, date and name",
        "procedure");
  }

  void by_maker() {
    if (q_.kind == JoinKind::electrofusion) {
      out_.cooling = used<kinds::Duration>("join.electrofusion_cooling", "cooling");
      say("join.company_table", Grade::undecided,
          "voltage, fusion time and cooling of an electrofusion joint are those of its fitting",
          "read the fitting's bar code and label; scrape, clamp, and let it cool unmoved for the "
          "maker's time",
          "fitting");
    } else {
      say("join.company_table", Grade::undecided,
          "stiffener, depth of insertion and torque of a mechanical joint are those of its fitting",
          "take a fitting that seals and holds against pull-out; mark the depth; follow its "
          "instructions",
          "fitting");
    }
    out_.says = fmt::format("Joint of {} by {} fitting: the maker's and the company's tables rule.",
                            q_.pipe.size.name, words(q_.kind));
  }

  const JoinQuestion& q_;
  const procedure::Profile& profile_;
  units::System system_;
  procedure::Case in_;
  std::vector<const procedure::Rule*> from_memory_;
  Joined out_;
};

}  // namespace

Result<Joined> join(const JoinQuestion& question, const procedure::Profile& profile,
                    units::System system) {
  BELLHOLE_TRY(checked, check(question));
  static_cast<void>(checked);
  return Joiner(question, profile, system).answer();
}

}  // namespace bellhole::restore
