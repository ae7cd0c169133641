// Pipes that a crew found where the map has others.
#pragma once

#include "ask/questions.hpp"
#include "network/columns.hpp"

namespace bellhole::ask {

/// The network with the texts under "found" laid over it, each a main and what was found of it:
/// "M-12 size=IPS 4, dr=11.5, material=PE2708", with the keys of the question pace that tell of a
/// pipe. Errors: unreadable_value, unknown_element; those of a pipe's size, wall and material.
Result<network::Network> as_found(const Question& question, network::Network network);

}  // namespace bellhole::ask
