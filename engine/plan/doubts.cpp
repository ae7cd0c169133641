#include "plan/doubts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <string_view>

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

constexpr std::size_t named_at_most = 5;
/// Notes after which it is open which mains are joined.
constexpr std::array open_questions{std::string_view("import.gap"),
                                    std::string_view("import.crossing"),
                                    std::string_view("import.valve_at_joint")};

std::set<std::string> touched(const Network& network, const Places& places, const isolate::Cut& cut,
                              const Work& work) {
  std::set<std::string> names;
  const auto pipe = [&](Index p) {
    if (p != network::none) names.insert("pipe " + network.pipes.id[at(p)]);
  };
  for (const Piece& piece : work.pieces) pipe(piece.pipe);
  for (const PartPiece& part : places.pieces) {
    if (std::ranges::binary_search(cut.lost, part.part)) pipe(part.piece.pipe);
  }
  for (const std::size_t i : places_of(places, cut)) {
    pipe(places.places[i].pipe);
    if (places.places[i].kind == ShutKind::valve)
      names.insert("valve " + network.valves.id[at(places.places[i].element)]);
  }
  for (std::size_t c = 0; c < network.customers.size(); ++c) {
    if (std::ranges::binary_search(cut.lost, places.part_of_customer[c]))
      names.insert("customer " + network.customers.id[c]);
  }
  return names;
}

}  // namespace

Findings import_notes(const Network& network, const Places& places, const isolate::Cut& cut,
                      const Work& work) {
  const std::set<std::string> names = touched(network, places, cut, work);
  struct Gathered {
    std::vector<std::string> lines;
    bool assumed = false;
  };
  std::map<std::string, Gathered> by_rule;
  const auto& notes = network.notes;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (!names.contains(notes.element[i])) continue;
    Gathered& gathered = by_rule[notes.rule[i]];
    gathered.lines.push_back(fmt::format("{}: {}", notes.element[i], notes.says[i]));
    gathered.assumed = gathered.assumed || notes.assumed[i] != 0;
  }
  Findings findings;
  for (const auto& [rule, gathered] : by_rule) {
    std::string says;
    for (std::size_t i = 0; i < std::min(named_at_most, gathered.lines.size()); ++i)
      says += (i == 0 ? "" : "; ") + gathered.lines[i];
    if (gathered.lines.size() > named_at_most)
      says += fmt::format("; and {} more", gathered.lines.size() - named_at_most);
    const bool open = std::ranges::find(open_questions, rule) != open_questions.end();
    findings.push_back({.rule = rule,
                        .grade = open               ? Grade::undecided
                                 : gathered.assumed ? Grade::warn
                                                    : Grade::info,
                        .says = says,
                        .quantity = "notes of the import on this plan",
                        .value_si = static_cast<double>(gathered.lines.size()),
                        .unit_si = "1",
                        .source = "found on import",
                        .evidence = Evidence::derived,
                        .action = open ? "find out on the street before the plan relies on it"
                                       : "compare with the records",
                        .about = "map"});
  }
  return findings;
}

Findings closed_valves(const Network& network, const Places& places, const isolate::Cut& cut) {
  const auto lost = [&](const PartPiece& part) {
    return std::ranges::binary_search(cut.lost, part.part);
  };
  Findings findings;
  const auto& valves = network.valves;
  for (std::size_t v = 0; v < valves.size(); ++v) {
    if (valves.position[v] != network::Position::closed) continue;
    const auto before = std::ranges::lower_bound(
        places.pieces, std::pair(valves.pipe[v], valves.station[v]), {},
        [](const PartPiece& p) { return std::pair(p.piece.pipe, p.piece.end); });
    const auto after = std::next(before);
    if (after == places.pieces.end() || lost(*before) == lost(*after)) continue;
    const PartPiece& other = lost(*before) ? *after : *before;
    if (!places.graph.fed(other.part)) continue;
    const bool recorded =
        valves.operable[v] == network::Ternary::yes && std::isfinite(valves.last_operated_year[v]);
    findings.push_back(
        {.rule = "plan.closed_valve",
         .grade = recorded ? Grade::warn : Grade::undecided,
         .says =
             fmt::format("the part is kept from gas by valve {}, recorded closed{}", valves.id[v],
                         recorded ? fmt::format(" and last turned in {:.0f}",
                                                std::floor(valves.last_operated_year[v]))
                                  : "; nothing recorded says that it holds"),
         .quantity = "closed valve between the part and gas",
         .source = "network as imported, traced",
         .evidence = Evidence::derived,
         .action = "put a gauge on the part and see that it does not rise before anything is cut; "
                   "tag the valve",
         .about = "valve " + valves.id[v]});
  }
  return findings;
}

}  // namespace bellhole::plan
