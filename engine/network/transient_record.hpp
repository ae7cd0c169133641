// What is noted while a course runs: who falls short and when, the highest pressure of each tier,
// the watched places, regulators that pass gas backwards or stand wide open.
//
// Between the ends of a step pressures follow a cubic through both ends and their slopes, so that a
// dip inside a step is seen too.
//
// Internal to network/.
#pragma once

#include <vector>

#include "network/transient_step.hpp"

namespace bellhole::network {

class Record {
 public:
  Record(const Model::Prepared& prepared, const Course& course, const Parts& parts);

  /// At the beginning.
  void begin(const Stepper& stepper, const Rates& rates);
  /// A step was tried and is about to be accepted.
  void step(const Stepper& stepper, const Rates& rates, double seconds, double h);
  /// Customers who draw from this moment on may already be short.
  void moment(const Stepper& stepper, double seconds);
  void end(const Stepper& stepper, const Rates& rates);

  Transient made;

 private:
  struct Place {  ///< a watched place between two points
    Index a = none, b = none;
    double share = 0.0;  ///< of the way from a to b
    double height = 0.0;
  };

  [[nodiscard]] Place place_of(const Watched& watched) const;
  [[nodiscard]] double gauge(std::size_t point, double reduced_pa) const;
  void sample(double seconds, const std::vector<double>& reduced);
  void look_at_customers(const Stepper& stepper, double seconds, double h);
  void look_at_tiers(const std::vector<double>& reduced, double seconds);
  void look_at_regulators(const Rates& rates, double seconds);

  const Model::Prepared& prepared_;
  const Course& course_;
  const Parts& parts_;
  std::vector<Place> places_;
  std::vector<double> least_;   ///< per customer: reduced pressure under which it is short
  std::vector<double> lowest_;  ///< per customer, reduced
  std::vector<double> scratch_;
  double next_sample_ = 0.0;
};

}  // namespace bellhole::network
