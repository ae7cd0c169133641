#include "maps/files.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace bellhole::maps {
namespace {

namespace fs = std::filesystem;

std::unexpected<Trouble> unwritable(const std::string& path, const std::string& why) {
  return trouble(Code::unwritable_file, path, why,
                 "check the folder, its rights and the space left");
}

bool write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(file, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

bool sync(const std::string& path) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) return false;
  const bool done = ::fsync(file) == 0;
  ::close(file);
  return done;
}

}  // namespace

Result<std::string> read_file(const std::string& path, std::size_t cap) {
  std::error_code error;
  const auto size = fs::file_size(path, error);
  if (error)
    return trouble(Code::unreadable_file, path, error.message(),
                   "check the name and the rights of the file");
  if (size > cap)
    return trouble(Code::too_large, path, std::to_string(size),
                   "at most " + std::to_string(cap) + " bytes are read");
  std::ifstream file(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  if (!file)
    return trouble(Code::unreadable_file, path, "reading stopped", "check that the file is whole");
  return std::move(bytes).str();
}

Result<bool> write_through(const std::string& path,
                           const std::function<Result<bool>(const std::string&)>& write) {
  const fs::path target(path);
  const std::string beside =
      (target.parent_path() / fs::path(target.stem().string() + ".part-" +
                                       std::to_string(::getpid()) + target.extension().string()))
          .string();
  auto written = write(beside);
  if (written && (!sync(beside) || std::rename(beside.c_str(), path.c_str()) != 0))
    written = unwritable(path, std::strerror(errno));
  if (!written) {
    std::error_code ignored;
    fs::remove(beside, ignored);
  }
  return written;
}

Result<bool> write_file(const std::string& path, std::string_view bytes) {
  return write_through(path, [&](const std::string& beside) -> Result<bool> {
    const int file = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
    if (file < 0) return unwritable(path, std::strerror(errno));
    const bool written = write_all(file, bytes);
    const int kept = errno;
    ::close(file);
    if (!written) return unwritable(path, std::strerror(kept));
    return true;
  });
}

std::string base_name(const std::string& path) {
  fs::path name(path);
  if (!name.has_filename()) name = name.parent_path();
  return name.filename().string();
}

}  // namespace bellhole::maps
