#include "plan/search.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace bellhole::plan {
namespace {

/// What a plan shuts, without saying where along a main.
using Elements = std::vector<std::pair<ShutKind, network::Index>>;

Elements elements_of(const Places& places, const isolate::Cut& cut) {
  Elements elements;
  for (const std::size_t i : places_of(places, cut))
    elements.emplace_back(places.places[i].kind, places.places[i].element);
  std::ranges::sort(elements);
  return elements;
}

std::int64_t emptied_mm(const Places& places, const isolate::Cut& cut) {
  double metres = 0.0;
  for (const PartPiece& part : places.pieces) {
    if (std::ranges::binary_search(cut.lost, part.part))
      metres += (part.piece.end - part.piece.begin).si();
  }
  return std::llround(metres * 1000.0);
}

/// The cost of the last plan wanted, once there are that many.
std::optional<isolate::Cost> last_wanted(const std::map<Elements, Candidate>& plans,
                                         std::size_t wanted) {
  if (plans.size() < wanted) return std::nullopt;
  std::vector<isolate::Cost> totals;
  for (const auto& [elements, candidate] : plans) totals.push_back(candidate.evaluation.total);
  const auto last = totals.begin() + static_cast<std::ptrdiff_t>(wanted) - 1;
  std::ranges::nth_element(totals, last);
  return *last;
}

}  // namespace

Result<Search> search(const network::Model& model, const Places& places,
                      const network::Scenario& base,
                      const std::vector<isolate::Cost>& customer_cost,
                      const network::SteadyState& before, const SearchLimits& limits,
                      Watch& watch) {
  Search result;
  isolate::Scratch scratch;
  isolate::Query query;
  query.work = places.work;
  BELLHOLE_TRY(cuts, isolate::Cuts::start(places.graph, query, scratch, watch));
  if (cuts.already_off().size() == places.work.size()) {
    result.already_off = true;
    return result;
  }

  std::map<Elements, Candidate> plans;
  while (auto cut = cuts.next()) {
    const auto last = last_wanted(plans, limits.plans);
    if (last && cut->cost > *last) {
      result.proof.bound = cut->cost;
      break;
    }
    ++result.proof.examined;
    const Elements elements = elements_of(places, *cut);
    const auto known = plans.find(elements);
    const std::int64_t emptied = emptied_mm(places, *cut);
    // Nobody falls short in the best place found so far: a later place on the same elements is
    // better only if it costs the same and empties less.
    if (known != plans.end() && known->second.evaluation.total == known->second.cut.cost &&
        (cut->cost > known->second.cut.cost || emptied >= known->second.emptied_mm)) {
      continue;
    }
    if (result.proof.solved >= limits.solves) {
      result.proof.optimal = false;
      result.proof.bound = cut->cost;
      break;
    }
    if (!watch.tick(static_cast<double>(result.proof.solved) /
                    static_cast<double>(limits.solves))) {
      return trouble(Code::cancelled, "plan", "", "asked to stop");
    }
    ++result.proof.solved;
    BELLHOLE_TRY(evaluation, evaluate(model, places, *cut, base, customer_cost, before));
    if (known == plans.end()) {
      plans.emplace(elements, Candidate{std::move(*cut), std::move(evaluation), emptied});
    } else if (std::pair(evaluation.total, emptied) <
               std::pair(known->second.evaluation.total, known->second.emptied_mm)) {
      known->second = {std::move(*cut), std::move(evaluation), emptied};
    }
  }
  if (plans.empty()) result.blocked = cuts.blocked();
  const isolate::Proof proof = cuts.proof();
  if (proof.ended == isolate::Ended::cancelled)
    return trouble(Code::cancelled, "plan", "", "asked to stop");
  if (proof.ended == isolate::Ended::limit) result.proof.optimal = false;
  if (result.proof.bound == 0) result.proof.bound = proof.bound;

  const auto last = last_wanted(plans, limits.plans);
  for (auto& [elements, candidate] : plans) {
    if (!last || candidate.evaluation.total <= *last) result.best.push_back(std::move(candidate));
  }
  std::ranges::stable_sort(result.best, {}, [](const Candidate& c) {
    return std::pair(c.evaluation.total, c.emptied_mm);
  });
  return result;
}

}  // namespace bellhole::plan
