// What a network is made of at one moment of a course: lengths of main that are open, shut-offs
// that move, draws, sources, regulators. And the moments at which that changes.
//
// Internal to network/.
#pragma once

#include <cmath>
#include <deque>
#include <memory>
#include <span>
#include <vector>

#include "network/equipment.hpp"
#include "network/prepared.hpp"
#include "network/transient.hpp"
#include "network/transient_leaks.hpp"
#include "numerics/octaves.hpp"

namespace bellhole::network {

/// The order in which the matrix eliminates the points, and in which its entries come: what is near
/// in the matrix is near in memory.
struct Order {
  explicit Order(const Model::Prepared& prepared);

  std::shared_ptr<const numerics::SparsePattern> pattern;
  std::vector<Index> row;        ///< of each point
  std::vector<Index> segment;    ///< of each run: a length of main, by its entry
  std::vector<Index> run;        ///< of each segment
  std::vector<Index> slot;       ///< of each run: its entry; -1 for one that ends where it begins
  std::vector<Index> pair_slot;  ///< of each regulator, inlet and outlet
};

/// A length of main between two rows; one to a line of the processor's cache.
struct alignas(64) Line {
  Index a = none, b = none;
  const numerics::Octaves* curve = nullptr;  ///< its law by a table; null: the law itself
  double per_flow = 0.0;                     ///< what the table is asked for at 1 kg/s
  double per_curve = 0.0;  ///< loss of reduced potential per metre's loss: length and lift
  double extra = 0.0;      ///< of squeezes: loss = extra q|q|; infinite where shut
  const gas::PipeLaw* law = nullptr;
  double length = 0.0;  ///< long enough for Balance's least resistance

  [[nodiscard]] double lift() const { return per_curve / length; }
  struct Loss {
    double value = 0.0, slope = 0.0;
  };
  /// Of the reduced potential.
  [[nodiscard]] Loss loss(double flow) const {
    const double size = std::abs(flow), x = size * per_flow;
    double value = 0.0, slope = 0.0;
    if (curve != nullptr && x < curve->end()) {
      const numerics::Octaves::At now = (*curve)(x);
      value = per_curve * now.value;
      slope = per_curve * per_flow * now.slope;
    } else {
      const gas::Loss now = law->loss(size, length);
      value = lift() * now.value;
      slope = lift() * now.slope;
    }
    value += extra * size * size;
    return {flow < 0.0 ? -value : value, slope + 2.0 * extra * size};
  }
};

/// A mover on its segment; several on one segment lose one after the other.
struct MovingPart {
  const Mover* mover = nullptr;
  Closure place;
  Index run = none;
  double loss_at_unit_k = 0.0;  ///< of the reduced potential, Pa2 / (kg/s)^2
};

/// A regulator or a source and whether a hand has shut it.
struct SourcePart {
  SourceItem item;
  bool shut = false;
};
struct ValvePart {
  ValveItem item;
  bool shut = false;
};

class Parts {
 public:
  /// REQUIRES a course that was checked. `course` and `prepared` must outlive it.
  /// `give`: share of its set point's potential by which a regulator gives at the whole flow.
  /// `leaks_at`: first stand-in of each opening.
  Parts(const Model::Prepared& prepared, const Course& course, const Order& order,
        std::span<const Index> leaks_at, double give);

  /// Puts loads and switches to what they are from this moment on.
  void set_moment(double seconds);

  /// Moments at which something jumps or bends, ascending, the end of the course last.
  [[nodiscard]] const std::vector<double>& moments() const { return moments_; }

  /// Puts the movers to where they are at a time.
  void set_time(double seconds);

  Case laid;                 ///< of the scenario, everything live
  std::vector<Line> lines;   ///< in the order of the runs
  std::vector<char> closed;  ///< per run: parted for good
  std::vector<MovingPart> movers;
  std::vector<Draw> draws;  ///< of one point with one least pressure together
  std::vector<SourcePart> sources;
  std::vector<ValvePart> valves;
  std::vector<LeakPart> leaks;
  std::vector<Closure> shut_places;  ///< every place that is or will be shut
  std::vector<double> wanted;        ///< per customer, kg/s, now
  std::vector<char> meters_now;      ///< per customer: 1, his meter is shut now
  std::vector<Index> by_row;         ///< customers in the order of their rows, highest least first
  double level = 0.0;                ///< size of a potential here, Pa2

 private:
  void lay_lines();
  void lay_curves();
  void lay_movers();
  void lay_leaks(std::span<const Index> leaks_at);
  void lay_equipment(double give);
  void collect_moments();
  void lay_taps();
  void set_draws();

  const Model::Prepared& prepared_;
  const Course& course_;
  const Order& order_;
  std::deque<numerics::Octaves> curves_;
  std::vector<double> moments_;
  std::vector<char> meter_shut_;
  /// Customers of one row with one least pressure: by_row [first, last).
  struct Tap {
    Draw draw;
    std::size_t first = 0, last = 0;
  };
  std::vector<Tap> taps_;
};

}  // namespace bellhole::network
