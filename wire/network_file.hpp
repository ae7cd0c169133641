// The network document: what `import` writes and every command reads. JSON, one object per table,
// one array per column, keys with their SI unit as suffix; `null` is a value that the map does not
// give. Elements refer to each other by id. The schema is schema/network.schema.json; the layout is
// documented there and in docs/handbook/maps.md.
#pragma once

#include <string>
#include <string_view>

#include "findings/trouble.hpp"
#include "network/columns.hpp"

namespace bellhole::wire {

inline constexpr std::string_view network_document = "bellhole.network";
inline constexpr int network_version = 1;

/// Reads a network. Every column is checked: its length, the type and range of each value, each id
/// once, each reference known, each word in its table, no column that is not in the schema. What
/// reads is whole in itself; whether it makes sense as a gas network is for network::check() to
/// say.
///
/// `name` is how the trouble names the document (a file name). Errors: too_large,
/// unreadable_document, missing_value, out_of_range, unknown_element (a reference to an id that is
/// not there), unreadable_value (a word in no table), bad_network (an id twice, columns of
/// different length). `Trouble::where` reads "town.json: pipes, row 12 (M-12), length_m".
Result<network::Network> read_network(std::string_view bytes, std::string_view name);

/// Writes a network: the canonical bytes, the same for the same network on every machine.
/// REQUIRES: the columns of each table have one length and every index but `none` is in range
/// (network::check_columns).
std::string write_network(const network::Network& network);

/// The name of a network: SHA-256 of its canonical bytes, 64 hexadecimal digits. For a file that
/// `import` wrote it is the SHA-256 of the file.
std::string network_hash(const network::Network& network);

}  // namespace bellhole::wire
