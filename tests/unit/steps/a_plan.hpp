// A plan with steps for the tests: a street fed from both ends, a station beside it, houses out.
//
//   G1 === n0 ---- M1 ---- n1 ---- M2 (work at 100 m) ---- n2 ---- M3 ---- n3 === G2
//                          |
//                          R (station to a district n4 -- D1 -- n5)
#pragma once

#include <algorithm>
#include <stdexcept>
#include <string>

#include "plan/plan.hpp"
#include "plan/step_check.hpp"
#include "plan/steps.hpp"
#include "tests/unit/plan/small_town.hpp"
#include "wire/order.hpp"

namespace bellhole::plan::test {

inline Town street() {
  Town town;
  auto& net = town.network;
  net.tiers.id = {"60", "low"};
  net.tiers.maop = {GaugePressure::from_si(60 * psi), GaugePressure::from_si(40 * psi)};
  net.tiers.least = {GaugePressure::from_si(20 * psi), GaugePressure::from_si(10 * psi)};
  const auto n0 = town.node("n0", 0, 0), n1 = town.node("n1", 300, 0), n2 = town.node("n2", 500, 0),
             n3 = town.node("n3", 800, 0), n4 = town.node("n4", 300, 200),
             n5 = town.node("n5", 500, 200);
  net.nodes.tier[static_cast<std::size_t>(n4)] = net.nodes.tier[static_cast<std::size_t>(n5)] = 1;
  const auto m1 = town.main("M1", n0, n1);
  const auto m2 = town.main("M2", n1, n2);
  const auto m3 = town.main("M3", n2, n3);
  const auto d1 = town.main("D1", n4, n5);
  town.source("G1", n0, 55);
  town.source("G2", n3, 50);
  town.regulator("R", n1, n4, 30);
  town.customer("c1", m2, 99.5);
  town.customer("c2", m2, 100.5);
  town.customer("c3", d1, 150, 600.0);
  town.customer("h1", m1, 150, 300.0, true);  // so that nobody shuts a whole source
  town.customer("h2", m3, 150, 300.0, true);
  return town;
}

/// The round costs with what the steps ask besides.
inline procedure::Profile with_gauges() {
  const procedure::Profile base = round_costs();
  return support::invented({{"steps.gauge_range", 100.0, "psig"},
                            {"steps.vented_gauge_range", 30.0, "inWC"},
                            {"steps.vented_most", 2.0, "inWC"},
                            {"steps.read_every", 5.0, "min"}},
                           &base);
}

/// Everything that a list of steps hangs on, kept alive together.
struct Asked {
  Town town = street();
  procedure::Profile profile = with_gauges();
  Order order;
  network::Model model;
  Work work;
  Question question;
  Answer answer;

  explicit Asked(Kind kind = Kind::planned, std::optional<bool> bypass = {})
      : Asked(street(), with_gauges(), *wire::built_in_order(kind), kind, bypass) {}
  Asked(Town in_town, procedure::Profile by, Order by_order, Kind kind = Kind::planned,
        std::optional<bool> bypass = {})
      : town(std::move(in_town)),
        profile(std::move(by)),
        order(std::move(by_order)),
        model(model_of(town)),
        work(*work_on_pipe(town.network, "M2", Length::from_si(99), Length::from_si(101))),
        question{.model = model, .profile = profile, .work = work, .kind = kind} {
    question.conditions.air = Temperature::from_si(278.0);
    question.today_year = 2026.0;
    question.plans = 1;
    question.limit_temperature = false;
    question.order = &order;
    question.bypass = bypass;
    Unwatched watch;
    auto answered = plan::plan(question, watch);
    if (!answered) throw std::runtime_error(answered.error().where + answered.error().value);
    answer = std::move(*answered);
  }
  Asked(const Asked&) = delete;
  Asked& operator=(const Asked&) = delete;

  [[nodiscard]] const ShutoffPlan& plan() const { return answer.plans.front(); }
  [[nodiscard]] Checked checked() const { return checked_of(question, plan(), plan().steps); }
};

inline std::size_t position(const Checked& list, const std::string& id) {
  const auto found = std::ranges::find(list.steps, id, &Step::id);
  if (found == list.steps.end()) throw std::runtime_error("no step " + id);
  return static_cast<std::size_t>(found - list.steps.begin());
}

inline Step& step(Checked& list, const std::string& id) { return list.steps[position(list, id)]; }

/// Takes a step out and puts it in behind another.
inline void move_behind(Checked& list, const std::string& id, const std::string& other) {
  Step moved = step(list, id);
  list.steps.erase(list.steps.begin() + static_cast<std::ptrdiff_t>(position(list, id)));
  list.steps.insert(list.steps.begin() + static_cast<std::ptrdiff_t>(position(list, other)) + 1,
                    std::move(moved));
}

inline void take_out(Checked& list, const std::string& id) {
  list.steps.erase(list.steps.begin() + static_cast<std::ptrdiff_t>(position(list, id)));
}

inline bool has_rule(const Findings& findings, std::string_view rule) {
  return std::ranges::any_of(findings, [&](const Finding& f) { return f.rule == rule; });
}

}  // namespace bellhole::plan::test
