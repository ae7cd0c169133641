#include "plan/stage_teller.hpp"

#include <algorithm>

namespace bellhole::plan {

using network::Index;
using network::Network;
using network::RegulatorMode;

namespace {

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

std::string letters(const ShutoffPlan& plan, const std::vector<std::size_t>& shut) {
  std::string words;
  for (std::size_t i = 0; i < shut.size(); ++i) {
    words += i == 0 ? "" : i + 1 == shut.size() ? " and " : ", ";
    words += plan.shutoffs[shut[i]].letter;
  }
  return words;
}

}  // namespace

std::string state_words(const ShutoffPlan& plan, const StageAsk& ask) {
  if (ask.shut.empty()) return ask.opening ? "everything open again" : "nothing shut";
  return fmt::format("{} {}shut", letters(plan, ask.shut), ask.opening ? "still " : "");
}

std::string before_words(const ShutoffPlan& plan, const StageAsk& ask) {
  if (!ask.moved) return "before anything is shut";
  return fmt::format("before {} is {}", plan.shutoffs[*ask.moved].letter,
                     ask.opening ? "opened again" : "shut");
}

std::string station_words(const Network& network, std::size_t r) {
  const auto& table = network.regulators;
  return table.station_name[r].empty() ? "regulator " + table.id[r]
                                       : fmt::format("{} ({})", table.station_name[r], table.id[r]);
}

std::vector<std::uint8_t> planned_out(const Question& question, const ShutoffPlan& plan) {
  std::vector<std::uint8_t> out(question.model.network().customers.size(), 0);
  for (const CustomerOut& customer : plan.out) out[at(customer.customer)] = 1;
  return out;
}

StageTeller::StageTeller(const StageView& view, std::vector<Index>& watch)
    : view_(view),
      network_(view.question.model.network()),
      regulators_(network_.regulators),
      out_(planned_out(view.question, view.plan)),
      before_words_(before_words(view.plan, view.ask)),
      watch_(watch),
      state_words_(state_words(view.plan, view.ask)) {}

Finding& StageTeller::say(std::string_view rule, Grade grade, std::string about,
                          const std::string& says, std::string action) {
  Finding finding;
  finding.rule = rule;
  finding.grade = grade;
  finding.about = std::move(about);
  finding.says = fmt::format("With {}: {}", state_words_, says);
  finding.action = std::move(action);
  finding.source = "steady state of the network as mapped, between two closings";
  finding.evidence = Evidence::derived;
  return findings_.emplace_back(std::move(finding));
}

Finding& StageTeller::say_of(std::size_t r, std::string_view rule, Grade grade,
                             const std::string& says, std::string action) {
  if (grade != Grade::info) must_be_watched(r);
  return say(rule, grade, "regulator " + regulators_.id[r], says, std::move(action));
}

void StageTeller::must_be_watched(std::size_t r) {
  const auto station = static_cast<Index>(r);
  if (std::ranges::find(watch_, station) == watch_.end()) watch_.push_back(station);
}

std::string StageTeller::post(std::size_t r, std::string_view gauge) const {
  return fmt::format(
      "post a person at {}, with a gauge on its {} and a hand on its outlet valve, {}", station(r),
      gauge, before_words_);
}

GaugePressure StageTeller::worst_outlet(std::size_t r) const {
  return GaugePressure::from_si(
      std::fmax(view_.now.low.regulators[r].outlet.si(), view_.now.high.regulators[r].outlet.si()));
}

bool StageTeller::drawn_from(const StageState& state, std::int32_t region) const {
  for (std::size_t c = 0; c < network_.customers.size(); ++c) {
    const bool draws = state.low.wanted[c].si() > 0.0 && (out_[c] == 0 || &state == &view_.first);
    if (draws && state.regions.of_customer(static_cast<Index>(c)) == region) return true;
  }
  for (std::size_t r = 0; r < regulators_.size(); ++r) {
    const auto& other = state.low.regulators[r];
    const bool leads_on =
        other.mode == RegulatorMode::controls || other.mode == RegulatorMode::wide_open;
    if (leads_on && other.flow.si() > 0.0 && state.regions.of_node(regulators_.inlet[r]) == region)
      return true;
  }
  return false;
}

}  // namespace bellhole::plan
