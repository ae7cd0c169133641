#include "plan/step_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "plan/posts.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

std::string must_not_lose(const Network& network, const ShutoffPlan& plan) {
  std::string names;
  for (const CustomerOut& out : plan.out) {
    if (network.customers.must_not_lose[at(out.customer)] == 0) continue;
    names += (names.empty() ? "" : ", ") + network.customers.id[at(out.customer)];
  }
  return names.empty() ? "" : "These must not lose gas: " + names + ".";
}

std::string element_words(const Network& network, const Place& place) {
  switch (place.kind) {
    case ShutKind::valve:
      return network.valves.id[at(place.element)];
    case ShutKind::regulator_outlet:
      return "regulator " + network.regulators.id[at(place.element)];
    case ShutKind::source_outlet:
      return "source " + network.sources.id[at(place.element)];
    case ShutKind::placed:
      return std::string(word(place.means));
    case ShutKind::squeeze:
      break;
  }
  return network.pipes.id[at(place.pipe)];
}

std::string pipe_words(const Network& network, const Place& place) {
  if (place.pipe == network::none) return element_words(network, place);
  const auto& pipes = network.pipes;
  const std::size_t p = at(place.pipe);
  std::string words = pipes.nominal_size[p].empty() ? "the main" : pipes.nominal_size[p];
  if (std::isfinite(pipes.ratio[p])) words += fmt::format(" DR {:g}", pipes.ratio[p]);
  return pipes.grade[p].empty() ? words : words + " " + pipes.grade[p];
}

std::string stop_words(const Shutoff& shutoff, units::System system) {
  if (!shutoff.sheet || !shutoff.sheet->sheet || !shutoff.sheet->sheet->chosen)
    return "no stop chosen: the lead decides";
  const squeeze::Stop& stop = shutoff.sheet->sheet->stops[*shutoff.sheet->sheet->chosen].stop;
  return fmt::format("stop {}, {}", stop.id,
                     system == units::System::us ? units::print_in(stop.gap, "in", 3)
                                                 : units::print_in(stop.gap, "mm", 1));
}

std::string spare_words(const Shutoff& shutoff, units::System system) {
  if (!shutoff.fallback.spare_station) return "use the fallback of this shut-off.";
  return fmt::format("squeeze its spare place, {}.",
                     units::print_in(*shutoff.fallback.spare_station,
                                     system == units::System::us ? "ft" : "m", 1));
}

}  // namespace

Values job_values(const Question& question, const ShutoffPlan& plan, const StepList& list,
                  const std::string& bypass) {
  std::string closing;
  for (const std::size_t i : list.closing)
    closing += (closing.empty() ? "" : ", then ") + plan.shutoffs[i].letter;
  return {{"work", describe(question.model.network(), question.work, question.system)},
          {"out", fmt::format("{}", plan.out.size())},
          {"must", must_not_lose(question.model.network(), plan)},
          {"first", list.opening.empty() ? "" : plan.shutoffs[list.opening.front()].letter},
          {"closing", closing},
          {"because", list.closing_because},
          {"posts", fmt::format("{}", list.posts.size())},
          {"part", units::print(plan.isolated.length, question.system)},
          {"bypass", bypass}};
}

Values shutoff_values(const Question& question, const Shutoff& shutoff, const squeeze::Tool* tool,
                      const std::string& left) {
  const Network& network = question.model.network();
  return {{"letter", shutoff.letter},
          {"where", where_of(question, shutoff.place)},
          {"element", element_words(network, shutoff.place)},
          {"pipe", pipe_words(network, shutoff.place)},
          {"tool", tool == nullptr ? "the tool" : "tool " + tool->id},
          {"stop", stop_words(shutoff, question.system)},
          {"left", left},
          {"spare", spare_words(shutoff, question.system)}};
}

Values post_values(const Post& post) {
  return {{"post", post.id}, {"role", post.role}, {"place", post.place}, {"why", post.why}};
}

std::string left_words(const StepList& list, const std::vector<StageNumbers>& numbers,
                       std::size_t stage) {
  if (stage == 0 || stage > list.closing.size()) return "";
  if (stage == list.closing.size()) return "Nothing should reach the part now.";
  const auto left = numbers.size() > stage ? numbers[stage].gas_left : std::optional<Fraction>();
  if (!left) return "How much gas still comes is not known.";
  return fmt::format("Still about {:.0f} % of the gas.", std::ceil(100.0 * left->si()));
}

}  // namespace bellhole::plan
