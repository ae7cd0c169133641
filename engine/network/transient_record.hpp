// What is noted while a course runs: who falls short and when, the highest pressure of each tier,
// the watched places, regulators that pass gas backwards or stand wide open.
//
// Between the ends of a step pressures follow a cubic through both ends and their slopes, so that a
// dip inside a step is seen too.
//
// Internal to network/.
#pragma once

#include <span>
#include <vector>

#include "network/transient_step.hpp"

namespace bellhole::network {

class Record {
 public:
  Record(const Model::Prepared& prepared, const Course& course, const Parts& parts,
         const Order& order);

  /// At the beginning. Tells the stepper what moments are wanted.
  void begin(Stepper& stepper, const Rates& rates);
  /// A step was tried and is about to be accepted.
  void step(const Stepper& stepper, const Rates& rates, double seconds, double h);
  /// Customers who draw from this moment on may already be short.
  void moment(const Stepper& stepper, double seconds);
  void end(const Stepper& stepper, const Rates& rates);

  Transient made;

 private:
  struct Place {  ///< a watched place between two rows
    Index a = none, b = none;
    double share = 0.0;  ///< of the way from a to b
    double height = 0.0;
  };

  [[nodiscard]] Place place_of(const Watched& watched) const;
  /// Those who draw at one row: Parts::by_row [first, last), of whom those from `next` on were
  /// never short.
  struct Served {
    std::size_t row = 0, first = 0, last = 0, next = 0;
    double lowest = 0.0, lowest_at = 0.0;  ///< since the last moment, reduced
  };

  [[nodiscard]] double gauge(std::size_t point, double reduced_pa) const;
  void sample(double seconds, const std::vector<double>& reduced, std::span<const double> lost);
  void look_at_leaks(const Stepper& stepper);
  void look_at_customers(const Stepper& stepper, double seconds, double h);
  void are_short(Served& served, double lowest, double seconds);
  void lowest_to_customers();
  void look_at_nodes(const std::vector<double>& reduced, double seconds);
  void end_tiers();
  void look_at_regulators(const Rates& rates, double seconds);

  const Model::Prepared& prepared_;
  const Course& course_;
  const Parts& parts_;
  const Order& order_;
  std::vector<Place> places_;
  std::vector<Served> served_;
  std::vector<double> least_;   ///< per customer: reduced pressure under which it is short
  std::vector<double> lowest_;  ///< per customer, reduced
  std::vector<double> highest_, highest_at_;  ///< per node, reduced
  std::vector<double> over_;                  ///< per node: reduced pressure over its limit
  std::vector<double> lost_, lost_inside_;    ///< kg by way out, so far and inside a step
  std::vector<double> scratch_;
  double next_sample_ = 0.0;
};

}  // namespace bellhole::network
