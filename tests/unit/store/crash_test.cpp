// The power goes at every single write of a 300-event job: after reopening the store holds what was
// answered for, and of the event that was on its way all or nothing.
#include <gtest/gtest.h>

#include <random>

#include "tests/unit/store/crash_disk.hpp"
#include "tests/unit/store/support.hpp"

namespace bellhole::store {
namespace {

constexpr int events = 300;

struct Whole {
  std::vector<Operation> operations;
  std::vector<std::size_t> answered;  ///< operations when the n-th event was answered for
  std::vector<std::string> lines;     ///< in the order of entering
};

std::vector<std::string> lines_in(Database& database) {
  std::vector<std::string> lines;
  auto select = database.prepare("SELECT bytes FROM events ORDER BY rowid");
  while (select && select->step().value_or(false)) lines.push_back(select->text(0));
  return lines;
}

const Whole& whole_job() {
  static const Whole run = [] {
    Whole made;
    CrashDisk disk("whole");
    auto store = Store::open("job.sqlite", disk.name());
    EXPECT_TRUE(store) << store.error().value;
    const Machine machine = test_machine();
    for (int i = 0; i < events; ++i) {
      const auto taken = store->enter(test_job, note(i), "test", machine);
      EXPECT_TRUE(taken) << taken.error().value;
      made.answered.push_back(disk.operations().size());
    }
    made.lines = lines_in(store->database());
    made.operations = disk.operations();
    return made;
  }();
  return run;
}

/// Reopens a disk as it stands; answers how many events it holds, all of them those of the job.
std::size_t reopened(const Files& files, bool thorough) {
  CrashDisk disk("again", files);
  disk.recording(false);
  auto store = Store::open("job.sqlite", disk.name());
  EXPECT_TRUE(store) << store.error().value << " " << store.error().fix;
  if (!store) return SIZE_MAX;
  const auto lines = lines_in(store->database());
  const Whole& run = whole_job();
  EXPECT_LE(lines.size(), run.lines.size());
  EXPECT_TRUE(std::equal(lines.begin(), lines.end(), run.lines.begin()))
      << "not the first events, in order";
  auto head = store->database().prepare("SELECT sequence FROM heads");
  const auto row = head->step();
  EXPECT_EQ(row.value_or(false) ? head->number(0) : 0, static_cast<std::int64_t>(lines.size()))
      << "the projection moved with the event";
  if (thorough) {
    auto check = store->database().prepare("PRAGMA integrity_check");
    EXPECT_TRUE(check->step().value_or(false));
    EXPECT_EQ(check->text(0), "ok");
    const auto more = store->enter(test_job, note(999), "test", test_machine());
    EXPECT_TRUE(more) << "the work goes on";
  }
  return lines.size();
}

std::size_t answered_by(std::size_t operation) {
  const auto& answered = whole_job().answered;
  return static_cast<std::size_t>(std::upper_bound(answered.begin(), answered.end(), operation) -
                                  answered.begin());
}

void crash_everywhere(const std::function<bool()>& reached) {
  const Whole& run = whole_job();
  PowerLoss power;
  for (std::size_t k = 0; k <= run.operations.size(); ++k) {
    if (k > 0) power.happens(run.operations[k - 1]);
    const std::size_t held = reopened(power.now(reached), k % 97 == 0);
    const std::size_t answered = answered_by(k);
    ASSERT_GE(held, answered) << "lost what was answered for, operation " << k;
    ASSERT_LE(held, answered + 1) << "operation " << k;
    if (testing::Test::HasFailure()) FAIL() << "operation " << k;
  }
}

TEST(Crash, KilledAtEveryWrite) {
  ASSERT_EQ(whole_job().lines.size(), static_cast<std::size_t>(events));
  ASSERT_GT(whole_job().operations.size(), static_cast<std::size_t>(5 * events));
  crash_everywhere([] { return true; });
}

TEST(Crash, EveryUnsyncedWriteDropped) {
  crash_everywhere([] { return false; });
}

TEST(Crash, AnyPartOfTheUnsyncedWritesDropped) {
  std::mt19937 chance(20261201);
  crash_everywhere([&] { return chance() % 2 == 0; });
}

TEST(Crash, ADiskThatForgetsItsSyncsLosesWhatWasAnsweredFor) {
  // The check above can fail: it does on a disk whose syncs do nothing.
  const Whole& run = whole_job();
  PowerLoss power;
  for (std::size_t i = 0; i < run.answered[10]; ++i)
    if (run.operations[i].kind != Operation::Kind::sync && !run.operations[i].lasting)
      power.happens(run.operations[i]);
  EXPECT_LT(reopened(power.now([] { return false; }), false), answered_by(run.answered[10]));
}

TEST(Full, NothingIsHalfWrittenAndTheWorkGoesOn) {
  CrashDisk disk("full");
  disk.recording(false);
  auto store = Store::open("job.sqlite", disk.name());
  const Machine machine = test_machine();
  ASSERT_TRUE(store->enter(test_job, note(0), "test", machine));
  for (std::size_t room : {0U, 100U, 600U, 5000U, 9000U, 20000U}) {
    const auto before = lines_in(store->database());
    disk.room(room);
    std::string many;
    for (int i = 0; i < 200; ++i) many += note(i) + "\n";
    const auto taken = store->enter(test_job, many, "test", machine);
    ASSERT_FALSE(taken) << room;
    EXPECT_EQ(taken.error().code, Code::unwritable_file);
    EXPECT_NE(taken.error().fix.find("full"), std::string::npos) << taken.error().fix;
    disk.plenty();
    EXPECT_EQ(lines_in(store->database()), before) << room;
    ASSERT_TRUE(store->enter(test_job, note(1), "test", machine)) << "goes on when there is room";
  }
}

TEST(ReadOnly, IsSaidAndNothingIsWritten) {
  Files files;
  {
    CrashDisk disk("ro-1");
    auto store = Store::open("job.sqlite", disk.name());
    ASSERT_TRUE(store->enter(test_job, note(0), "test", test_machine()));
    files = disk.files();
  }
  CrashDisk disk("ro-2", files);
  disk.read_only(true);
  auto store = Store::open("job.sqlite", disk.name());
  ASSERT_TRUE(store) << store.error().value << ": what is there can still be read";
  EXPECT_TRUE(store->log(test_job));
  const auto taken = store->enter(test_job, note(1), "test", test_machine());
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().code, Code::unwritable_file);
  EXPECT_EQ(disk.files(), files);
}

TEST(Durability, ADatabaseWithSyncingOffIsRefused) {
  CrashDisk disk("unsynced");
  auto database = Database::open("job.sqlite", disk.name());
  ASSERT_TRUE(check_durable(*database));
  for (const char* sql : {"PRAGMA synchronous = OFF", "PRAGMA synchronous = NORMAL"}) {
    ASSERT_TRUE(database->run(sql));
    EXPECT_FALSE(check_durable(*database)) << sql;
  }
  ASSERT_TRUE(database->run("PRAGMA synchronous = FULL"));
  ASSERT_TRUE(check_durable(*database));
  ASSERT_TRUE(database->run("PRAGMA journal_mode = OFF"));
  EXPECT_FALSE(check_durable(*database));
}

}  // namespace
}  // namespace bellhole::store
