// What a request shuts, by the name of an element.
#pragma once

#include "ask/questions.hpp"
#include "network/transient.hpp"

namespace bellhole::ask {

/// Shuts one element: "V-7" a valve, "R-2" a regulator's outlet, "GATE" a source, "M-12" a whole
/// main at both ends, "M-12@41m" a main at a station. Errors: unknown_element, those of
/// place_on_pipe.
Result<bool> shut(const Question& question, const network::Network& network,
                  const std::string& text, network::Scenario& scenario);

/// What time begins with and what moves: everything of `shut` that `open` has not, over `takes`.
struct Shutting {
  std::vector<network::Mover> movers;
  std::vector<network::Switch> switches;
};
Shutting shutting(const network::Scenario& shut, const network::Scenario& open, Duration takes);

/// A place where a gauge hangs: a node, a customer, or a main's place as ID@STATION.
Result<network::Watched> gauge_place(const Question& question, const network::Network& network,
                                     const std::string& text);

/// "16:30" as an hour of the day. Errors: unreadable_value.
Result<double> clock_hour(const std::string& text, const std::string& where);

/// From a clock time to another: the next one that comes. Hours of the day.
Duration since(double hour_then, double hour_now);

}  // namespace bellhole::ask
