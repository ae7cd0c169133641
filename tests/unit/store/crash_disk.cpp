#include "tests/unit/store/crash_disk.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>

namespace bellhole::store {
namespace {

struct OpenFile {
  sqlite3_file base;
  CrashDisk* disk;
  std::string* name;
};

OpenFile& of(sqlite3_file* file) { return *reinterpret_cast<OpenFile*>(file); }

int close_file(sqlite3_file* file) {
  delete of(file).name;
  return SQLITE_OK;
}
int read_file(sqlite3_file* file, void* into, int size, sqlite3_int64 at) {
  const std::string& bytes = of(file).disk->files_[*of(file).name];
  std::memset(into, 0, static_cast<std::size_t>(size));
  if (static_cast<std::size_t>(at) >= bytes.size()) return SQLITE_IOERR_SHORT_READ;
  const std::size_t have =
      std::min(bytes.size() - static_cast<std::size_t>(at), static_cast<std::size_t>(size));
  std::memcpy(into, bytes.data() + at, have);
  return have == static_cast<std::size_t>(size) ? SQLITE_OK : SQLITE_IOERR_SHORT_READ;
}
int write_file(sqlite3_file* file, const void* from, int size, sqlite3_int64 at) {
  return of(file).disk->write(*of(file).name,
                              {static_cast<const char*>(from), static_cast<std::size_t>(size)},
                              static_cast<std::size_t>(at));
}
int truncate_file(sqlite3_file* file, sqlite3_int64 size) {
  return of(file).disk->truncate(*of(file).name, static_cast<std::size_t>(size));
}
int sync_file(sqlite3_file* file, int) {
  of(file).disk->sync(*of(file).name);
  return SQLITE_OK;
}
int size_of_file(sqlite3_file* file, sqlite3_int64* size) {
  *size = static_cast<sqlite3_int64>(of(file).disk->files_[*of(file).name].size());
  return SQLITE_OK;
}
int no_lock(sqlite3_file*, int) { return SQLITE_OK; }
int not_locked(sqlite3_file*, int* out) {
  *out = 0;
  return SQLITE_OK;
}
int no_control(sqlite3_file*, int, void*) { return SQLITE_NOTFOUND; }
int sector(sqlite3_file*) { return 4096; }
int nothing_promised(sqlite3_file*) { return 0; }

const sqlite3_io_methods methods{
    1,       close_file, read_file,  write_file, truncate_file, sync_file,        size_of_file,
    no_lock, no_lock,    not_locked, no_control, sector,        nothing_promised, nullptr,
    nullptr, nullptr,    nullptr,    nullptr,    nullptr};

CrashDisk& disk_of(sqlite3_vfs* vfs) { return *static_cast<CrashDisk*>(vfs->pAppData); }

int open_file(sqlite3_vfs* vfs, const char* name, sqlite3_file* file, int flags, int* out) {
  const std::string called = name != nullptr ? name : "temporary";
  const int code = disk_of(vfs).open(called, flags);
  file->pMethods = nullptr;
  if (code != SQLITE_OK) return code;
  file->pMethods = &methods;
  of(file).disk = &disk_of(vfs);
  of(file).name = new std::string(called);
  if (out != nullptr) *out = flags;
  return SQLITE_OK;
}
int delete_file(sqlite3_vfs* vfs, const char* name, int sync) {
  disk_of(vfs).remove(name, sync != 0);
  return SQLITE_OK;
}
int access_file(sqlite3_vfs* vfs, const char* name, int, int* out) {
  *out = disk_of(vfs).files_.contains(name) ? 1 : 0;
  return SQLITE_OK;
}
int full_name(sqlite3_vfs*, const char* name, int size, char* out) {
  sqlite3_snprintf(size, out, "%s", name);
  return SQLITE_OK;
}
int random_bytes(sqlite3_vfs*, int size, char* out) {
  std::memset(out, 7, static_cast<std::size_t>(size));
  return size;
}
int no_sleep(sqlite3_vfs*, int) { return 0; }
int no_time(sqlite3_vfs*, double* out) {
  *out = 2461000.5;
  return SQLITE_OK;
}

void put(std::string& file, std::string_view bytes, std::size_t at) {
  if (file.size() < at + bytes.size()) file.resize(at + bytes.size());
  file.replace(at, bytes.size(), bytes);
}

void take_effect(Files& files, const Operation& operation) {
  using Kind = Operation::Kind;
  if (operation.kind == Kind::create) files.try_emplace(operation.file);
  if (operation.kind == Kind::write) put(files[operation.file], operation.bytes, operation.at);
  if (operation.kind == Kind::truncate) files[operation.file].resize(operation.at);
  if (operation.kind == Kind::remove) files.erase(operation.file);
}

}  // namespace

struct CrashDisk::Mounted {
  sqlite3_vfs vfs{};
};

CrashDisk::CrashDisk(std::string name, Files files)
    : files_(std::move(files)), mounted_(std::make_unique<Mounted>()), name_(std::move(name)) {
  sqlite3_vfs& vfs = mounted_->vfs;
  vfs.iVersion = 1;
  vfs.szOsFile = sizeof(OpenFile);
  vfs.mxPathname = 512;
  vfs.zName = name_.c_str();
  vfs.pAppData = this;
  vfs.xOpen = open_file;
  vfs.xDelete = delete_file;
  vfs.xAccess = access_file;
  vfs.xFullPathname = full_name;
  vfs.xRandomness = random_bytes;
  vfs.xSleep = no_sleep;
  vfs.xCurrentTime = no_time;
  sqlite3_vfs_register(&vfs, 0);
}

CrashDisk::~CrashDisk() { sqlite3_vfs_unregister(&mounted_->vfs); }

void CrashDisk::note(Operation operation) {
  if (recording_) operations_.push_back(std::move(operation));
}

int CrashDisk::open(const std::string& file, int& flags) {
  const bool there = files_.contains(file);
  if (!there && ((flags & SQLITE_OPEN_CREATE) == 0 || read_only_)) return SQLITE_CANTOPEN;
  if (read_only_)
    flags = (flags & ~(SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE)) | SQLITE_OPEN_READONLY;
  if (!there) {
    files_[file];
    note({Operation::Kind::create, file, 0, {}, false});
  }
  return SQLITE_OK;
}

int CrashDisk::write(const std::string& file, std::string_view bytes, std::size_t at) {
  std::string& old = files_[file];
  const std::size_t grows = at + bytes.size() > old.size() ? at + bytes.size() - old.size() : 0;
  if (grows > room_) return SQLITE_FULL;
  if (room_ != SIZE_MAX) room_ -= grows;
  put(old, bytes, at);
  note({Operation::Kind::write, file, at, std::string(bytes), false});
  return SQLITE_OK;
}

int CrashDisk::truncate(const std::string& file, std::size_t size) {
  files_[file].resize(size);
  note({Operation::Kind::truncate, file, size, {}, false});
  return SQLITE_OK;
}

void CrashDisk::sync(const std::string& file) { note({Operation::Kind::sync, file, 0, {}, false}); }

void CrashDisk::remove(const std::string& file, bool lasting) {
  files_.erase(file);
  note({Operation::Kind::remove, file, 0, {}, lasting});
}

void PowerLoss::happens(const Operation& operation) {
  pending_.push_back(operation);
  if (operation.kind != Operation::Kind::sync && !operation.lasting) return;
  // A sync, or a removal with its folder, takes all that the same file still waited for with it.
  std::vector<Operation> rest;
  for (Operation& waiting : pending_) {
    if (waiting.file == operation.file)
      take_effect(safe_, waiting);
    else
      rest.push_back(std::move(waiting));
  }
  pending_ = std::move(rest);
}

Files PowerLoss::now(const std::function<bool()>& reached) const {
  Files files = safe_;
  for (const Operation& waiting : pending_)
    if (reached()) take_effect(files, waiting);
  return files;
}

}  // namespace bellhole::store
