// What putting gas back gives to say.
#include <fmt/format.h>

#include <cmath>

#include "plan/repressurise_course.hpp"
#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Index;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

class Sayer {
 public:
  Sayer(const RefillRun& run, Refill& out) : r_(run), out_(out) {}

  void say() {
    say_customers();
    say_pace();
    say_pressures();
    std::string order;
    for (const std::size_t e : r_.order)
      order += (order.empty() ? "" : ", then ") + r_.q.part.ends[e].letter;
    out_.says = fmt::format("Open {}. From the first movement to the end: {}.", order,
                            units::print(r_.run.ended, r_.q.system, units::Toward::up));
    out_.assumed.emplace_back("the high load all the while, and every meter of the part shut");
    out_.assumed.emplace_back("the part begins full of gas at no pressure, as the purge leaves it");
    out_.cautions = {
        "No gas goes back while one meter of the part is not counted shut.",
        "Stop when a gauge leaves what is written here; shut again, then ask why.",
        "An excess-flow valve that has shut stays shut: reset each service by its own procedure.",
        "The company's written procedure and the person in charge decide."};
  }

 private:
  [[nodiscard]] const network::Network& network() const { return r_.q.model.network(); }

  void add(std::string rule, Grade grade, std::string says, std::string action, std::string about) {
    out_.findings.push_back({.rule = std::move(rule),
                             .grade = grade,
                             .says = std::move(says),
                             .quantity = "putting gas back",
                             .source = "the network through time, high load",
                             .evidence = Evidence::derived,
                             .action = std::move(action),
                             .about = std::move(about)});
  }

  [[nodiscard]] std::string ids(const std::vector<Index>& customers) const {
    std::string all;
    for (const Index c : customers)
      all += (all.empty() ? "" : ", ") + network().customers.id[at(c)];
    return all;
  }

  [[nodiscard]] std::string name_of(std::size_t end) const {
    return end_words(r_.asked.model.network(), r_.asked.part.ends[end], r_.q.system);
  }

  void say_customers() {
    if (!out_.short_of_gas.empty())
      add("repressurise.short", Grade::halt,
          fmt::format("while gas goes back, customers who stay on fall short: {}",
                      ids(out_.short_of_gas)),
          "fill at a quieter hour or more slowly, through a rider valve or a bypass",
          ids(out_.short_of_gas));
    if (!out_.not_known.empty())
      add("repressurise.valve_not_known", Grade::undecided,
          fmt::format("whether these services have an excess-flow valve is not recorded: {}",
                      ids(out_.not_known)),
          "take them for fitted with one: look for pressure behind each", ids(out_.not_known));
  }

  void say_pace() {
    if (out_.rise_most && out_.rise > *out_.rise_most)
      add("repressurise.rise", Grade::halt,
          fmt::format("the part rises by {}, more than the {} that its excess-flow valves stand",
                      units::print(out_.rise, r_.q.system, units::Toward::up),
                      units::print(*out_.rise_most, r_.q.system, units::Toward::down)),
          "fill more slowly", "rise");
    for (std::size_t i = 0; i < r_.order.size(); ++i) {
      const PartEnd& end = r_.q.part.ends[r_.order[i]];
      const bool bypassed = i == 0 && r_.q.part.bypass;
      if (!r_.meets[i].fills || bypassed || end.rider || end.kind != ShutKind::squeeze) continue;
      add("repressurise.throttle", Grade::warn,
          fmt::format("{} fills the part itself: no squeeze can be held at so small an opening",
                      name_of(r_.order[i])),
          "fill through a rider valve or a bypass, throttled", end.letter);
    }
    for (const std::size_t e : r_.order) {
      if (opens(r_.q, r_.q.part.ends[e]).paced) continue;
      add("repressurise.pace", Grade::undecided,
          fmt::format("how fast {} opens is not set: it is taken to open at once", name_of(e)),
          "set the pace in the profile, or decide and keep to it", r_.q.part.ends[e].letter);
    }
    for (const StillApart& apart : r_.not_alike) say_apart(apart);
  }

  void say_apart(const StillApart& apart) {
    const auto ruling = r_.q.profile.ruling("repressurise.apart_most", {});
    const auto limit = ruling.as<kinds::GaugePressure>();
    const double by = std::abs(apart.by.si());
    const auto words = [&](double pa, units::Toward toward) {
      return units::print(PressureDifference::from_si(pa), r_.q.system, toward);
    };
    Findings held =
        procedure::judge(ruling,
                         {.quantity = "difference of the gauges of " + name_of(apart.end),
                          .value_si = by,
                          .about = r_.q.part.ends[apart.end].letter,
                          .action = "fill what lies behind it first, or open it as a throttle"},
                         r_.q.system);
    for (Finding& finding : held) {
      const std::string most = limit ? "; at most " + words(limit->si(), units::Toward::down)
                                     : ", and no limit is set for that: decide";
      finding.says = fmt::format("the gauges of {} stand {} apart when it is opened{}",
                                 name_of(apart.end), words(by, units::Toward::up), most);
      out_.findings.push_back(std::move(finding));
    }
  }

  void say_pressures() {
    for (std::size_t t = 0; t < r_.run.tiers.size(); ++t) {
      const network::Peak& peak = r_.run.tiers[t];
      if (!peak.first_over) continue;
      add("repressurise.over_maop", Grade::halt,
          fmt::format("{} at node {} passes the {} of tier {}",
                      units::print(peak.pressure, r_.q.system, units::Toward::up),
                      network().nodes.id[at(peak.node)],
                      units::print(peak.limit, r_.q.system, units::Toward::down),
                      network().tiers.id[t]),
          "find out why before any gas goes back", network().tiers.id[t]);
    }
  }

  const RefillRun& r_;
  Refill& out_;
};

}  // namespace

void say_refill(const RefillRun& run, Refill& out) { Sayer(run, out).say(); }

}  // namespace bellhole::plan
