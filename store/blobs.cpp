// Blobs beside the database: <store>.blobs/<two hex digits>/<hash>.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <sstream>

#include "store/store.hpp"

namespace bellhole::store {
namespace {

std::unexpected<Trouble> unwritable(const std::string& path, int error) {
  return trouble(Code::unwritable_file, path, std::strerror(error),
                 "nothing was kept: check the folder, its rights and the space left");
}

struct File {
  int handle = -1;
  ~File() {
    if (handle >= 0) ::close(handle);
  }
};

bool sync_folder(const std::string& path) {
  const File folder{::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  return folder.handle >= 0 && ::fsync(folder.handle) == 0;
}

/// The folder, and its entry in the one above, on the disk.
bool make_folder(const std::string& path) {
  if (::mkdir(path.c_str(), 0755) == 0) {
    const auto slash = path.rfind('/');
    return sync_folder(slash == std::string::npos ? "." : path.substr(0, slash + 1));
  }
  return errno == EEXIST;
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

Result<job::Hash> Store::keep(std::string_view bytes) {
  const job::Hash hash = wire::sha256(bytes);
  const std::string root = database_.path() + ".blobs", folder = root + "/" + hash.substr(0, 2),
                    path = folder + "/" + hash,
                    beside = fmt::format("{}.part-{}", path, ::getpid());
  if (const auto there = blob(hash)) return hash;
  if (!make_folder(root) || !make_folder(folder)) return unwritable(folder, errno);
  bool written = false;
  int error = 0;
  {
    const File file{::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644)};
    if (file.handle < 0) return unwritable(path, errno);
    written = write_all(file.handle, bytes);
    error = errno;
  }
  if (written && std::rename(beside.c_str(), path.c_str()) == 0 && sync_folder(folder)) return hash;
  if (written) error = errno;
  ::unlink(beside.c_str());
  return unwritable(path, error);
}

Result<std::string> Store::blob(const job::Hash& hash) {
  const bool named =
      hash.size() == 64 && hash.find_first_not_of("0123456789abcdef") == std::string::npos;
  const std::string path =
      database_.path() + ".blobs/" + (named ? hash.substr(0, 2) + "/" + hash : "");
  std::ifstream file(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  if (!named || !file)
    return trouble(Code::unreadable_file, path, hash, "fetch it from the device that has it");
  std::string text = std::move(bytes).str();
  if (wire::sha256(text) != hash)
    return trouble(Code::unreadable_file, path, hash,
                   "its bytes are not those of its name: fetch it from the device that has it");
  return text;
}

}  // namespace bellhole::store
