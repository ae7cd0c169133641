// A disk in memory that remembers every operation, so that it can be looked at as it would stand
// after the power went at any of them: with all that was written, with only what was synced, or
// with any part of the rest. Mounted as a way to the disk ("vfs") of SQLite.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace bellhole::store {

using Files = std::map<std::string, std::string>;

struct Operation {
  enum class Kind { create, write, truncate, sync, remove } kind = Kind::write;
  std::string file;
  std::size_t at = 0;
  std::string bytes;     ///< of a write
  bool lasting = false;  ///< of a removal: the folder is synced with it
};

class CrashDisk {
 public:
  /// Mounts a disk under this name; one at a time under one name.
  explicit CrashDisk(std::string name, Files files = {});
  ~CrashDisk();
  CrashDisk(const CrashDisk&) = delete;
  CrashDisk& operator=(const CrashDisk&) = delete;

  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] const std::vector<Operation>& operations() const { return operations_; }
  [[nodiscard]] const Files& files() const { return files_; }

  /// From now on so many bytes may be added before the disk is full; none: no end to it.
  void room(std::size_t bytes) { room_ = bytes; }
  void plenty() { room_ = SIZE_MAX; }
  void read_only(bool on) { read_only_ = on; }
  void recording(bool on) { recording_ = on; }

  // For the shim.
  int open(const std::string& file, int& flags);
  int write(const std::string& file, std::string_view bytes, std::size_t at);
  int truncate(const std::string& file, std::size_t size);
  void sync(const std::string& file);
  void remove(const std::string& file, bool lasting);
  Files files_;

 private:
  void note(Operation operation);
  struct Mounted;
  std::unique_ptr<Mounted> mounted_;
  std::string name_;
  std::vector<Operation> operations_;
  std::size_t room_ = SIZE_MAX;
  bool read_only_ = false, recording_ = true;
};

/// Runs through operations and answers, at any of them, how the files may stand after a loss of
/// power: what was synced, and of the rest what `reached` says of each operation.
class PowerLoss {
 public:
  void happens(const Operation& operation);
  [[nodiscard]] Files now(const std::function<bool()>& reached) const;

 private:
  Files safe_;
  std::vector<Operation> pending_;
};

}  // namespace bellhole::store
