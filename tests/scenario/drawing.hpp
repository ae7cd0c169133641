// Networks drawn as text, so that a crew can read a test.
//
//     A-4--c--v--4-B      A, B … (not R, S, V)  a node
//     |            |      -  |                  a main; 10 m a character, between two nodes n + 1
//     of them 2            2      2 3 4 6 8             its size in inches c            c      c a
//     customer            C1, C2 … in reading order |            |      v  x                  a
//     valve, open, closed V1, V2 … C-2->--2-----D      >  <                  a regulator, the way
//     gas goes; both sides need a size  R1, R2 …
//
// Reading order: from each node (line by line) first the main to its right, then the one below it.
// A main is named by its ends, "A-B"; beside a regulator "C-R1" and "R1-D". Stations run from the
// end that is named first. All mains are PE, IPS and DR 11.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "network/feeds.hpp"
#include "network/steady.hpp"
#include "tests/support/town.hpp"

namespace bellhole::scenario {

/// What a state says, by the names in the picture.
class Answer {
 public:
  Answer(const network::Model& model, const network::Scenario& scenario,
         network::SteadyState state);

  [[nodiscard]] double psig(std::string_view node) const;
  [[nodiscard]] double inwc(std::string_view node) const;
  [[nodiscard]] double psig_at_customer(std::string_view customer) const;
  [[nodiscard]] double scfh(
      std::string_view pipe_or_regulator_or_source) const;  ///< a pipe: at its first end
  [[nodiscard]] std::string mode(std::string_view regulator) const;
  [[nodiscard]] std::string out() const;  ///< "C1 C2"
  [[nodiscard]] std::string short_of_gas() const;
  [[nodiscard]] bool says(std::string_view rule) const;
  [[nodiscard]] bool carried() const { return state_.outcome == network::Outcome::solved; }

 private:
  const network::Network& network_;
  network::SteadyState state_;
  Findings findings_;
  double kg_per_scf_per_h_;
};

class Drawing {
 public:
  explicit Drawing(std::string_view picture);

  /// All mains joined to a node, regulators between, are one tier.
  Drawing& tier(std::string_view node, std::string_view name, std::string_view maop,
                std::string_view least);
  Drawing& feed(std::string_view node, std::string_view pressure, std::string_view capacity = "");
  Drawing& regulator(std::string_view id, std::string_view set_point,
                     std::string_view capacity = "");
  Drawing& feels(std::string_view regulator, std::string_view place);  ///< "B-D@30m"
  Drawing& feels_unknown(std::string_view regulator);
  Drawing& one_way(std::string_view regulator);  ///< a check valve is recorded
  Drawing& station(std::string_view regulator, std::string_view name);
  Drawing& lock_up(std::string_view regulator, double share);  ///< rise over the set point
  Drawing& relief(std::string_view regulator, std::string_view pressure);
  Drawing& trips(std::string_view regulator);  ///< a hand must reset it
  Drawing& must_not_lose(std::string_view customer, std::string_view why);
  Drawing& customers(std::string_view draw);  ///< all of them
  Drawing& customer(std::string_view id, std::string_view draw, std::string_view least = "");
  Drawing& height(std::string_view node, std::string_view height);

  /// Asks for the steady state with these things shut: "V1", "R1", "A-B@20m".
  [[nodiscard]] Answer flow(const std::vector<std::string>& shut = {}) const;
  [[nodiscard]] Result<network::SteadyState> solve(const std::vector<std::string>& shut = {}) const;
  [[nodiscard]] network::Feeds feeds(std::string_view place) const;  ///< "A-B@20m"

  [[nodiscard]] const network::Network& network() const { return town_.net; }

 private:
  friend class Reader;
  [[nodiscard]] network::Closure place(std::string_view text) const;
  [[nodiscard]] network::Scenario scenario(const std::vector<std::string>& shut) const;

  support::Town town_;
};

}  // namespace bellhole::scenario
