// The project's own files, for tests that hold the pages against the code.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace bellhole::docs {

std::filesystem::path top();
std::string read(const std::filesystem::path& file);

/// Files below the folders (from the top of the project) whose names end so; hidden folders, build
/// output and node modules are left out. Sorted.
std::vector<std::filesystem::path> files(const std::vector<std::string>& folders,
                                         std::string_view ending);

/// C++ text without its // comments.
std::string without_comments(std::string text);

}  // namespace bellhole::docs
