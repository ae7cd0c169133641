// The best places to shut: the cheapest cuts that part a place of work from gas, in rising exact
// cost.
//
//   lost(S) = every vertex that had gas and that no path of open edges joins to any open supply
//   once the
//             edges and supplies of S are shut, wherever it lies: on the work's side or in a pocket
//             behind
//   cost(S) = sum of what S costs to shut + sum of what lost(S) costs to lose
//
// What is listed. Exactly the inclusion-minimal sets S of edges and supplies that may be shut, such
// that all of the work is lost and nothing that is forbidden is: reopen any one member of S and
// some of the work has gas again. Each is listed once. A set that shuts more than it needs is never
// listed (reopening the surplus costs nothing and loses nobody), and the cheapest set of all is
// always among those listed.
//
// Order. By cost; equal cost by number of places shut, then by edge indices, then by supply
// indices. All of equal cost are listed. (Query::tie_limit says when the order among very many
// equals is by batches.)
//
// Vertices that no supply reaches even with everything open are lost already: they never cost
// anything, are never in Cut::lost, and work there needs no shutting (Cuts::already_off).
//
// Method, proof and limits: docs/theory/isolation.md.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "findings/trouble.hpp"
#include "findings/watch.hpp"
#include "isolate/graph.hpp"
#include "isolate/scratch.hpp"

namespace bellhole::isolate {

/// A cost that holds for one question only, in place of the graph's own.
struct EdgeCost {
  EdgeIndex edge = 0;
  Cost shut = forbidden;
};
struct VertexCost {
  Vertex vertex = 0;
  Cost lost = forbidden;
};
struct SupplyCost {
  std::int32_t supply = 0;
  Cost shut = forbidden;
};

class Enumeration;

struct Query {
  std::vector<Vertex> work;     ///< must be lost; one or more, twice the same does no harm
  std::vector<EdgeCost> edges;  ///< places too near the work: forbidden; a place dug already: cheap
  std::vector<VertexCost> vertices;  ///< must stay on: forbidden; carried by a bypass: 0
  std::vector<SupplyCost> supplies;
  std::int64_t limit = 20'000;  ///< subproblems solved in all; beyond it the gap is said
  std::int64_t tie_limit = 64;  ///< cuts of equal cost that are gathered and ordered at a time
};

struct Cut {
  Cost cost = 0;                            ///< exact
  std::vector<EdgeIndex> shut;              ///< ascending
  std::vector<std::int32_t> supplies_shut;  ///< ascending
  std::vector<Vertex> lost;  ///< ascending; the work and every pocket, without what was off before
};

enum class Ended : std::uint8_t {
  not_yet,    ///< ask on
  all_given,  ///< there is no further cut
  limit,  ///< Query::limit was reached: cuts given since then are good but not shown to be the best
  cancelled,  ///< the Watch said stop
};

/// What is known about how good the cuts given so far are.
struct Proof {
  bool optimal = true;  ///< every cut cheaper than the last one given has been given
  Ended ended = Ended::not_yet;
  std::int64_t examined = 0;  ///< subproblems solved
  std::int64_t pockets = 0;   ///< of them, those whose relaxed optimum left a pocket
  std::int64_t touched = 0;   ///< vertices looked at, summed over subproblems
  Cost bound = 0;             ///< no cut that is not yet given costs less; forbidden: there is none
};

/// Why there is no cut at all: whatever is shut, this would be lost too.
struct Blocked {
  enum class By : std::uint8_t {
    supply,  ///< no place that may be shut lies between the work and this supply, which may not be
             ///< shut
    vertex,  ///< this vertex may not be lost, and every way of parting the work from gas loses it
  };
  By by = By::supply;
  std::int32_t index = 0;  ///< supply or vertex
};

/// The cuts of one question, one at a time. The graph, the scratch and the watch must outlive it;
/// several may share a scratch, as long as only one is asked at a time.
class Cuts {
 public:
  /// Trouble: missing_value without work; work_not_found for work that is no vertex;
  /// unknown_element for a cost of no edge, vertex or supply; contradiction for two costs of the
  /// same one; out_of_range as for Graph::prepare. A question without an answer is no trouble:
  /// next() gives none and blocked() says why.
  static Result<Cuts> start(const Graph& graph, const Query& query, Scratch& scratch, Watch& watch);

  Cuts(Cuts&&) noexcept;
  Cuts& operator=(Cuts&&) noexcept;
  ~Cuts();

  /// The next cut that costs less than `below`, or none; proof() then says whether that is all
  /// there are. Where dearer ones may be left, proof().ended is `not_yet`, and a later call may go
  /// on to them.
  std::optional<Cut> next(Cost below = forbidden);

  [[nodiscard]] Proof proof() const;
  /// Set when next() has given none and there is no cut at all.
  [[nodiscard]] std::optional<Blocked> blocked() const;
  /// Work that no supply reaches even with everything open; ascending, each once.
  [[nodiscard]] std::span<const Vertex> already_off() const;

 private:
  explicit Cuts(std::unique_ptr<Enumeration> enumeration);
  std::unique_ptr<Enumeration> enumeration_;
};

}  // namespace bellhole::isolate
