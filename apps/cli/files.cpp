#include "apps/cli/files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace bellhole::cli {
namespace {

constexpr std::uintmax_t most_bytes = std::uintmax_t{1} << 30;

std::unexpected<Trouble> unwritable(const std::string& path) {
  return trouble(Code::unwritable_file, path, std::strerror(errno),
                 "check the folder, its rights and the space left");
}

bool write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(file, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return ::fsync(file) == 0;
}

}  // namespace

bool is_file(const std::string& path) {
  std::error_code error;
  return std::filesystem::is_regular_file(path, error);
}

Result<std::string> read_file(const std::string& path) {
  std::error_code error;
  const auto size = std::filesystem::file_size(path, error);
  if (error)
    return trouble(Code::unreadable_file, path, error.message(),
                   "check the name and the rights of the file");
  if (size > most_bytes)
    return trouble(Code::too_large, path, std::to_string(size), "at most 1 GiB is read");
  std::ifstream file(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  if (!file)
    return trouble(Code::unreadable_file, path, "reading stopped", "check that the file is whole");
  return std::move(bytes).str();
}

Result<bool> write_file(const std::string& path, std::string_view bytes) {
  const std::string beside = path + ".part-" + std::to_string(::getpid());
  const int file = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
  if (file < 0) return unwritable(path);
  const bool written = write_all(file, bytes);
  const int kept = errno;
  ::close(file);
  if (!written || std::rename(beside.c_str(), path.c_str()) != 0) {
    if (!written) errno = kept;
    auto failed = unwritable(path);
    ::unlink(beside.c_str());
    return failed;
  }
  return true;
}

}  // namespace bellhole::cli
