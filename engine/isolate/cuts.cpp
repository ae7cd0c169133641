#include "isolate/cuts.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "isolate/enumeration.hpp"

namespace bellhole::isolate {

namespace {

using Priced = std::vector<std::pair<std::int32_t, Cost>>;

/// Checks costs that a question sets for one kind of thing, and adds them to the list with `shift`.
Result<bool> take(const Priced& set, std::size_t known, const char* what, std::int32_t shift,
                  Cost& total, Priced& to) {
  Priced sorted = set;
  std::sort(sorted.begin(), sorted.end());
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    const auto [index, cost] = sorted[i];
    const std::string where = std::string("isolate.question.") + what + " " + std::to_string(index);
    if (index < 0 || static_cast<std::size_t>(index) >= known) {
      return trouble(Code::unknown_element, where, std::to_string(index),
                     "name one of the graph's own");
    }
    if (i > 0 && sorted[i - 1].first == index) {
      return trouble(Code::contradiction, where, std::to_string(cost), "set each cost once");
    }
    if (cost < 0 || cost > forbidden) {
      return trouble(Code::out_of_range, where, std::to_string(cost), "costs are 0 to 2^62");
    }
    if (cost < forbidden) total = plus(total, cost);
    to.emplace_back(index + shift, cost);
  }
  return true;
}

}  // namespace

Cuts::Cuts(std::unique_ptr<Enumeration> enumeration) : enumeration_(std::move(enumeration)) {}
Cuts::Cuts(Cuts&&) noexcept = default;
Cuts& Cuts::operator=(Cuts&&) noexcept = default;
Cuts::~Cuts() = default;

Result<Cuts> Cuts::start(const Graph& graph, const Query& query, Scratch& scratch, Watch& watch) {
  if (query.work.empty()) {
    return trouble(Code::missing_value, "isolate.question.work", "", "say where the work is");
  }
  for (const Vertex v : query.work) {
    if (v < 0 || static_cast<std::size_t>(v) >= graph.vertices()) {
      return trouble(Code::work_not_found, "isolate.question.work", std::to_string(v),
                     "name a vertex of the graph");
    }
  }
  Priced edges, supplies, vertices;
  for (const EdgeCost& set : query.edges) edges.emplace_back(set.edge, set.shut);
  for (const SupplyCost& set : query.supplies) supplies.emplace_back(set.supply, set.shut);
  for (const VertexCost& set : query.vertices) vertices.emplace_back(set.vertex, set.lost);
  Cost total = graph.finite_total();
  Priced shut, lost;
  BELLHOLE_TRY(edges_taken, take(edges, graph.edges(), "edge", 0, total, shut));
  const auto shift = static_cast<std::int32_t>(graph.edges());
  BELLHOLE_TRY(supplies_taken, take(supplies, graph.supplies(), "supply", shift, total, shut));
  BELLHOLE_TRY(vertices_taken, take(vertices, graph.vertices(), "vertex", 0, total, lost));
  static_cast<void>(edges_taken && supplies_taken && vertices_taken);
  if (total == forbidden) {
    return trouble(Code::out_of_range, "isolate.question", "sum of costs",
                   "finite costs together stay below 2^62");
  }
  Prices prices(graph.layout(), std::move(shut), lost);
  return Cuts(std::make_unique<Enumeration>(graph, query, std::move(prices), scratch, watch));
}

std::optional<Cut> Cuts::next(Cost below) { return enumeration_->next(below); }
Proof Cuts::proof() const { return enumeration_->proof(); }
std::optional<Blocked> Cuts::blocked() const { return enumeration_->blocked(); }
std::span<const Vertex> Cuts::already_off() const { return enumeration_->already_off(); }

}  // namespace bellhole::isolate
