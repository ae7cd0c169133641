// A network as a map again: a GeoPackage and the mapping that reads it back. Importing the two
// gives the same network, to the last digit.
#pragma once

#include <string>
#include <vector>

#include "maps/tables.hpp"
#include "network/columns.hpp"

namespace bellhole::maps {

/// One table for each kind of element, with every column in SI. REQUIRES network::check_columns.
std::vector<OutTable> network_tables(const network::Network& network);

/// The mapping file that reads those tables.
std::string network_mapping(const network::Network& network);

}  // namespace bellhole::maps
