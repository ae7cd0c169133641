// The check ledger: every value that Bellhole is held against and that was not made by Bellhole.
//
// Each room that has outside checks lists them in a file tests/outside/<room>_checks.cpp:
//
//   LEDGER(gas) {
//     ledger.check({.quantity = "Colebrook friction, Re 1e5, e/D 1e-4",
//            .expected = 0.0185138661, .tolerance = 1e-9, .unit = "1",
//            .source = "Colebrook 1939, iterated to convergence", .evidence = Evidence::derived,
//            .independent = true},
//           [] { return gas::colebrook(1e5, 1e-4); });
//   }
//
// The test program test_outside recomputes every row through the public interface, fails when one
// is out of tolerance, has no source or no positive tolerance, and compares docs/checks.md with
// what it would write.
// `./dev checks`-like regeneration: run test_outside with BELLHOLE_WRITE_CHECKS=1.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "findings/finding.hpp"

namespace bellhole::outside {

struct Row {
  std::string quantity;
  double expected = 0.0;
  double tolerance = 0.0;  ///< absolute, in `unit`
  std::string unit;
  std::string source;
  Evidence evidence = Evidence::from_memory;
  bool independent = true;  ///< false: the expected value was made with the same formula
};

struct Check {
  std::string room;
  Row row;
  std::function<double()> got;
};

/// All checks of all rooms, in the order of registration.
std::vector<Check>& all_checks();

/// Registers a room's checks; see LEDGER.
class Ledger {
 public:
  Ledger(std::string room, const std::function<void(Ledger&)>& fill) : room_(std::move(room)) {
    fill(*this);
  }
  void check(Row row, std::function<double()> got) {
    all_checks().push_back({room_, std::move(row), std::move(got)});
  }

 private:
  std::string room_;
};

}  // namespace bellhole::outside

#define LEDGER(room)                                                                      \
  static void room##_checks_fill(bellhole::outside::Ledger& ledger);                      \
  static const bellhole::outside::Ledger room##_checks_ledger{#room, room##_checks_fill}; \
  static void room##_checks_fill([[maybe_unused]] bellhole::outside::Ledger& ledger)
