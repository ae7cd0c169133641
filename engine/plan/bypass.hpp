// What keeps customers on while something is shut: a temporary pipe round it, a normally closed
// valve opened, a portable supply. Each is put into the network and solved there, at the high load
// for who is kept and how fast the gas runs, at the low load for the highest pressure. None is
// sized alone: what a bypass passes is decided by the mains at both of its ends.
//
// Order: first those without a halt; then fewest customers out who must not lose gas, fewest out,
// a valve before a pipe before a supply, smaller bores first.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "findings/watch.hpp"
#include "network/columns.hpp"
#include "network/steady.hpp"
#include "procedure/profile.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

/// A hose or pipe that the company has.
struct BypassSize {
  std::string name;
  Length bore;
  std::optional<GaugePressure> rated;  ///< most pressure for it; missing: not known
};

struct OnMain {
  network::Index pipe = network::none;
  Length station;
};

struct PortableSupply {
  std::string name;
  network::Index node = network::none;
  GaugePressure pressure;
  StdFlow capacity;
};

struct BypassQuestion {
  const network::Network& network;
  const network::Conditions& conditions;
  network::Scenario open;  ///< air and hour; nothing of the work is shut
  network::Scenario shut;  ///< the same with the shut places
  const procedure::Profile& profile;
  units::System system = units::System::us;
  /// Places that must stay without gas. Empty: nobody said, and the answer says so.
  std::vector<OnMain> work = {};
  std::optional<std::pair<OnMain, OnMain>> between = {};  ///< ends of a temporary pipe
  std::vector<BypassSize> sizes = {};
  Length length = {}, roughness = {};  ///< of the temporary pipe
  std::optional<double> loss = {};     ///< sum K; missing: gas::usual_loss()
  std::vector<PortableSupply> supplies = {};
};

enum class BypassKind : std::uint8_t { valve, pipe, supply };

/// A customer or node against its limit.
struct Held {
  std::string place;
  GaugePressure pressure, limit;  ///< limit nan: none set
};

struct BypassFound {
  BypassKind kind = BypassKind::pipe;
  std::string element;                 ///< size, valve or supply, by its own name
  std::optional<Length> bore, length;  ///< of a temporary pipe
  std::optional<double> loss;
  StdFlow flow;                ///< through it at the high load, from `from` to `to`
  std::optional<Speed> speed;  ///< at its end with the lower pressure; nothing for a supply
  std::vector<network::Index> kept, out;  ///< at the high load, ascending
  std::vector<network::Index> newly_out;  ///< of `out`: who would not be out without it
  std::vector<network::Index> must_out;   ///< of `out`: who must not lose gas
  std::optional<Held> lowest;             ///< of those kept, nearest to the least pressure
  std::optional<Held> highest;            ///< at the low load, nearest to (or beyond) its MAOP
  std::optional<Duration> saves;  ///< crew-time; nothing where plan.cost_customer is not set
  Findings findings;
  std::string why;  ///< one sentence: what it does, or why not
};

struct Bypasses {
  std::vector<network::Index> out;  ///< without any: out or short at the high load, ascending
  std::vector<network::Index> must_out;
  std::vector<BypassFound> bypasses;  ///< best first; empty where none is needed
  Findings findings;                  ///< of the question and of the best one
  [[nodiscard]] bool needed() const { return !out.empty(); }
  /// The first keeps somebody on and nothing halts it.
  [[nodiscard]] bool helped() const;
};

/// Rules bypass.…, listed in docs/rules.md. Errors: those of WithAdded::node_at and Model::solve;
/// cancelled.
Result<Bypasses> bypasses_of(const BypassQuestion& question, Watch& watch);

}  // namespace bellhole::plan
