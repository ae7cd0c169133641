// What the times say to the people who must act.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "network/time_left.hpp"

namespace bellhole::network {
namespace {

using units::Toward;

const char* const source = "docs/theory/time.md: the network through time";

std::string named(const Network& network, Index customer) {
  const auto c = static_cast<std::size_t>(customer);
  return network.customers.id[c] +
         (network.customers.street[c].empty() ? "" : ", " + network.customers.street[c]);
}

std::string when(const CustomerTime& time, units::System system) {
  return time.at_once ? "at once" : "after " + units::print(time.shortest, system, Toward::down);
}

Finding finding(const char* rule, Grade grade, std::string says, std::string action) {
  return {.rule = rule,
          .grade = grade,
          .says = std::move(says),
          .source = source,
          .evidence = Evidence::derived,
          .action = std::move(action)};
}

void say_order(const Network& network, const TimeLeft& left, units::System system, Findings& all) {
  const auto at_once = std::ranges::count_if(left.order, &CustomerTime::at_once);
  if (at_once > 0) {
    all.push_back(finding(
        "time.at_once", Grade::halt,
        fmt::format("{} customers are out at once: there is no gas in their mains to speak of",
                    at_once),
        "do not start a countdown: shut their meters first, or feed them another way"));
  }
  const auto first =
      std::ranges::find_if(left.order, [](const CustomerTime& time) { return !time.at_once; });
  if (first != left.order.end()) {
    Finding made = finding("time.short", Grade::warn,
                           fmt::format("{} customers fall short; the first is {} {}",
                                       left.order.size() - static_cast<std::size_t>(at_once),
                                       named(network, first->customer), when(*first, system)),
                           "be done, open again or have their meters shut before that");
    made.quantity = "time left at the high draw";
    made.value_si = first->shortest.si();
    made.unit_si = "s";
    made.about = "customer " + network.customers.id[static_cast<std::size_t>(first->customer)];
    all.push_back(std::move(made));
  }
  for (const CustomerTime& time : left.order) {
    const auto c = static_cast<std::size_t>(time.customer);
    if (network.customers.must_not_lose[c] == 0) continue;
    Finding made = finding(
        "time.must_not_lose", Grade::halt,
        fmt::format("{} must not lose gas ({}) and falls short {}", named(network, time.customer),
                    network.customers.why_not[c], when(time, system)),
        "do not shut before this customer is fed another way");
    made.quantity = "time left at the high draw";
    made.value_si = time.shortest.si();
    made.unit_si = "s";
    made.about = "customer " + network.customers.id[c];
    all.push_back(std::move(made));
  }
}

void say_cut_off(const TimeQuestion& question, const TimeLeft& left, units::System system,
                 Findings& all) {
  const auto listed = std::ranges::count_if(left.order, &CustomerTime::cut_off);
  if (left.cut_off <= static_cast<std::size_t>(listed)) return;
  all.push_back(finding(
      "time.cut_off", Grade::warn,
      fmt::format("{} customers are cut off from every source; {} of them still hold after {}, the "
                  "end of what was looked at, and fall short later",
                  left.cut_off, left.cut_off - static_cast<std::size_t>(listed),
                  units::print(question.horizon, system)),
      "look further ahead, or have their meters shut"));
}

void say_readings(const TimeQuestion& question, const TimeLeft& left, units::System system,
                  Findings& all) {
  for (std::size_t k = 0; k < left.readings.size(); ++k) {
    const ReadingSays& says = left.readings[k];
    const Reading& reading = question.readings[k];
    const std::string read = fmt::format(
        "{} at {} after {}: expected {}", units::print(reading.pressure, system),
        reading.place_says, units::print(reading.at, system), units::print(says.expected, system));
    if (says.factor) {
      all.push_back(finding(
          "time.reading", Grade::info,
          fmt::format("{}; it stands for {:.2f} times the expected draw", read, *says.factor),
          "go on reading; the largest draw that a gauge tells rules the time"));
      continue;
    }
    all.push_back(finding(
        "time.reading", Grade::undecided,
        says.above
            ? read + "; no draw explains so much: it is still fed, or the gauge, the place or the "
                     "time is wrong"
            : read + "; no draw explains so little: gas leaves another way, or the gauge, the "
                     "place or the time is wrong",
        "find out which before anybody leans on the times"));
  }
}

}  // namespace

Findings findings(const Model& model, const TimeQuestion& question, const TimeLeft& left,
                  units::System system) {
  const Network& network = model.network();
  Findings all;
  say_order(network, left, system, all);
  say_cut_off(question, left, system, all);
  say_readings(question, left, system, all);
  const auto without = std::ranges::count_if(
      left.order, [](const CustomerTime& time) { return std::isnan(time.least.si()); });
  if (without > 0) {
    all.push_back(finding(
        "time.no_limit", Grade::undecided,
        fmt::format("{} of the customers who fall short have no least pressure: no limit set: "
                    "decide. Their times are those to next to no pressure",
                    without),
        "enter the least pressure of their tier"));
  }
  if (!question.low_pressure) {
    all.push_back(finding("time.no_limit", Grade::undecided,
                          "up to which pressure a main counts as low pressure is not set: decide. "
                          "Times of low-pressure customers are no times to act in",
                          "set linepack.low_pressure in the procedure"));
  }
  if (left.regulators_give > 1e-4) {
    all.push_back(
        finding("time.hunting", Grade::warn,
                fmt::format("stations act on each other: they were let give {:.2g} of the absolute "
                            "pressure, and pressures about them are that uncertain",
                            left.regulators_give),
                "watch those stations' gauges"));
  }
  return all;
}

}  // namespace bellhole::network
