// Files of the maps program: read whole, written whole or not at all.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "findings/trouble.hpp"

namespace bellhole::maps {

/// Errors: unreadable_file, too_large (over `cap` bytes).
Result<std::string> read_file(const std::string& path, std::size_t cap);

/// Writes beside the target, syncs and renames: a reader sees the old file or the new one. Errors:
/// unwritable_file; the old file is then untouched.
Result<bool> write_file(const std::string& path, std::string_view bytes);

/// The same for a file that another library writes: `write` gets the name to write to, which ends
/// as `path` does. What it leaves behind when it fails is removed.
Result<bool> write_through(const std::string& path,
                           const std::function<Result<bool>(const std::string&)>& write);

/// The file's name without its folder.
std::string base_name(const std::string& path);

}  // namespace bellhole::maps
