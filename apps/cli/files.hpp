// Files at the door: read whole, written whole or not at all.
#pragma once

#include <string>
#include <string_view>

#include "findings/trouble.hpp"

namespace bellhole::cli {

/// Errors: unreadable_file, too_large (over 1 GiB).
Result<std::string> read_file(const std::string& path);

/// Writes beside the target, syncs and renames, so that a reader sees the old file or the new one.
/// Errors: unwritable_file; the old file is then untouched.
Result<bool> write_file(const std::string& path, std::string_view bytes);

bool is_file(const std::string& path);

}  // namespace bellhole::cli
