#include "store/store.hpp"

#include <gtest/gtest.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "store/desk.hpp"
#include "tests/unit/store/support.hpp"
#include "wire/job.hpp"

namespace bellhole::store {
namespace {

namespace fs = std::filesystem;

class Shelf : public testing::Test {
 protected:
  void SetUp() override {
    std::string name = (fs::temp_directory_path() / "bellhole-store-XXXXXX").string();
    ASSERT_NE(::mkdtemp(name.data()), nullptr);
    folder_ = name;
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::string path(const char* name = "job.sqlite") const { return folder_ / name; }
  fs::path folder_;
};

Store opened(const std::string& path) {
  auto store = Store::open(path);
  EXPECT_TRUE(store) << (store ? "" : store.error().value + " " + store.error().fix);
  return std::move(*store);
}

std::string read(const fs::path& path) {
  std::stringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

TEST_F(Shelf, KeepsLinesByteForByteAndOnce) {
  Store one = opened(path());
  const Machine machine = test_machine();
  ASSERT_TRUE(one.enter(test_job, note(1) + "\n\n" + note(2) + "\r\n", "t", machine));
  const std::string log = *one.log(test_job);
  Store other = opened(path("other.sqlite"));
  EXPECT_EQ(other.take(log + log, "t")->added, 2U);
  EXPECT_EQ(other.take(log, "t")->known, 2U);
  EXPECT_EQ(*other.log(test_job), log);
}

TEST_F(Shelf, TakesAllLinesOrNone) {
  Store store = opened(path());
  const Machine machine = test_machine();
  ASSERT_TRUE(store.enter(test_job, note(1), "t", machine));
  const std::string before = *store.log(test_job);
  for (const std::string& bad :
       {std::string("{\"kind\": \"note\", \"fact\": {}}"), std::string("nonsense"),
        std::string(R"({"kind": "nought", "fact": {}})"),
        std::string(R"({"kind": "note", "fact": {"says": "x", "more": 1}})")}) {
    const auto taken = store.enter(test_job, note(2) + "\n" + bad, "events", machine);
    ASSERT_FALSE(taken) << bad;
    EXPECT_NE(taken.error().where.find("events, line 2"), std::string::npos) << taken.error().where;
    EXPECT_EQ(*store.log(test_job), before);
  }
  std::string edited = before;
  edited.replace(edited.find("note 1"), 6, "note 9");
  EXPECT_EQ(store.take(edited, "t").error().code, Code::contradiction);
}

TEST_F(Shelf, EventsAreNeverChangedOrRemoved) {
  Store store = opened(path());
  ASSERT_TRUE(store.enter(test_job, note(1), "t", test_machine()));
  EXPECT_FALSE(store.database().run("UPDATE events SET bytes = 'x'"));
  EXPECT_FALSE(store.database().run("DELETE FROM events"));
}

TEST_F(Shelf, TwoStoresHaveChainsOfTheirOwnAndMerge) {
  Store one = opened(path("one")), two = opened(path("two"));
  Machine first = test_machine(""), second = test_machine("");
  second.random = [] { return std::array<std::uint8_t, 10>{9, 8, 7, 6, 5, 4, 3, 2, 1, 0}; };
  ASSERT_TRUE(one.enter(test_job, note(1), "t", first));
  ASSERT_TRUE(two.take(*one.log(test_job), "t"));
  ASSERT_TRUE(two.enter(test_job, note(2), "t", second));
  ASSERT_TRUE(one.enter(test_job, note(3), "t", first));
  ASSERT_TRUE(one.take(*two.log(test_job), "t"));
  ASSERT_TRUE(two.take(*one.log(test_job), "t"));
  EXPECT_EQ(*one.log(test_job), *two.log(test_job));
  const auto log = wire::read_log(*one.log(test_job), "t");
  EXPECT_EQ(log->heads().size(), 2U);
  EXPECT_TRUE(job::check_log(*log).empty());
}

TEST_F(Shelf, ProjectionsAreMadeAnewFromTheEvents) {
  Store store = opened(path());
  const std::string lines =
      R"({"kind": "opened", "fact": {"title": "Quay Street", "work": "emergency"}})"
      "\n"
      R"({"kind": "pipe_found", "fact": {"about": "A", "pipe": {"size": "IPS 4", "dr": 11.5}}})"
      "\n"
      R"({"kind": "act", "fact": {"did": "shut", "about": "A"}})"
      "\n"
      R"({"kind": "laid", "fact": {"what": "squeeze", "about": "A", "element": "M-1", "station": "40ft", "lon": -20, "lat": 36, "marked": "yes"}})";
  ASSERT_TRUE(store.enter(test_job, lines, "t", test_machine()));
  const auto shown = [&] {
    std::string text;
    const auto jobs = store.jobs();
    for (const JobLine& job : *jobs)
      text += job.title + job.work + job.opened_at + std::to_string(job.events);
    const auto squeezes = store.squeezes();
    for (const auto& one : *squeezes)
      text += one.element + one.pipe + one.marked + std::to_string(one.station->si());
    return text;
  };
  const std::string before = shown();
  EXPECT_NE(before.find("Quay Streetemergency"), std::string::npos);
  ASSERT_TRUE(store.database().run("DELETE FROM jobs; DELETE FROM heads; DELETE FROM squeezes"));
  ASSERT_TRUE(store.rebuild());
  EXPECT_EQ(shown(), before);
  ASSERT_TRUE(store.enter(test_job, note(1), "t", test_machine()));
  EXPECT_TRUE(job::check_log(*wire::read_log(*store.log(test_job), "t")).empty()) << "heads too";
}

TEST_F(Shelf, SqueezesAreFoundBeforeAnybodyDigs) {
  Store store = opened(path());
  const auto squeeze = [](const char* letter, const char* where) {
    return std::string(R"({"kind": "act", "fact": {"did": "shut", "about": ")") + letter +
           "\"}}\n" + R"({"kind": "pipe_found", "fact": {"about": ")" + letter +
           R"(", "pipe": {"size": "IPS 4", "dr": 11}}})" + "\n" +
           R"({"kind": "laid", "fact": {"what": "squeeze", "about": ")" + letter +
           "\", \"element\": \"M-1\"" + where + "}}\n";
  };
  // A ten-thousandth of a degree of latitude is 11.12 m.
  ASSERT_TRUE(store.enter(test_job,
                          squeeze("A", R"(, "station_m": 40, "lon": -20, "lat": 36)") +
                              squeeze("B", R"(, "station_m": 52, "lon": -20, "lat": 36.0001)") +
                              squeeze("C", ""),
                          "t", test_machine()));
  const auto on = store.squeezes_on("M-1", Length::from_si(50), Length::from_si(10));
  ASSERT_EQ(on->size(), 3U);
  EXPECT_EQ((*on)[0].about, "B");
  EXPECT_EQ((*on)[0].away->si(), 2.0);
  EXPECT_EQ((*on)[1].away->si(), 10.0) << "the edge belongs to it";
  EXPECT_FALSE((*on)[2].away) << "no place on record: it may be here";
  EXPECT_EQ(store.squeezes_on("M-1", Length::from_si(50), Length::from_si(9.999))->size(), 2U);
  EXPECT_TRUE(store.squeezes_on("M-2", Length::from_si(50), Length::from_si(10))->empty());
  const auto near = store.squeezes_near(-20, 36, Length::from_si(5));
  ASSERT_EQ(near->size(), 2U);
  EXPECT_EQ((*near)[0].about, "A");
  EXPECT_NEAR(store.squeezes_near(-20, 36, Length::from_si(12))->at(1).away->si(), 11.12, 0.01);
  const auto reply = squeezes_reply(store, {"-20,36", "", "", "5m"}, units::System::metric);
  EXPECT_EQ(reply->at("verdict"), "undecided");
  EXPECT_FALSE(squeezes_reply(store, {"-20,36", "", "", ""}, units::System::metric));
  EXPECT_FALSE(squeezes_reply(store, {"200,36", "", "", "5m"}, units::System::metric));
}

TEST_F(Shelf, RegistersKeepEveryVersionAndForget) {
  Store store = opened(path());
  const auto enroll = [&](const char* text) {
    return enroll_reply(store, "people", text, "f", "2026-01-01T00:00:00Z");
  };
  ASSERT_TRUE(enroll(R"([{"id": "P-7", "name": "A"}, {"id": "P-8", "name": "B"}])"));
  ASSERT_TRUE(enroll(R"({"id": "P-7", "name": "C"})"));
  const auto all = store.entries("people");
  ASSERT_EQ(all->size(), 2U);
  EXPECT_EQ((*all)[0].version, 2);
  EXPECT_NE((*all)[0].document.find("\"C\""), std::string::npos);
  ASSERT_TRUE(store.forget("people", "P-7"));
  EXPECT_EQ(store.entries("people")->size(), 1U);
  EXPECT_FALSE(enroll(R"([{"name": "nobody"}])"));
}

TEST_F(Shelf, NetworksByHashSayWhatChanged) {
  Store store = opened(path());
  const auto network = [](const char* pipes) {
    return std::string(R"({"document": "bellhole.network", "name": "Town", "pipes": )") + pipes +
           "}";
  };
  const auto first = enroll_reply(store, "networks",
                                  network(R"({"id": ["M1", "M2"], "od_m": [0.1, 0.2]})"), "n", "t");
  ASSERT_TRUE(first) << first.error().fix;
  const auto second = enroll_reply(
      store, "networks", network(R"({"id": ["M2", "M3"], "od_m": [0.3, 0.2]})"), "n", "t");
  const auto& changes = second->at("entries")[0].at("changes").at("pipes");
  EXPECT_EQ(changes.dump(), R"({"added":["M3"],"changed":["M2"],"gone":["M1"]})");
  EXPECT_EQ(second->at("entries")[0].at("before"), first->at("entries")[0].at("hash"));
}

TEST_F(Shelf, BlobsAreWholeOrNotThere) {
  Store store = opened(path());
  const std::string picture(100'000, 'x');
  const auto hash = store.keep(picture);
  ASSERT_TRUE(hash) << hash.error().value;
  EXPECT_EQ(*store.blob(*hash), picture);
  EXPECT_EQ(*store.keep(picture), *hash);
  const fs::path file = path() + ".blobs/" + hash->substr(0, 2) + "/" + *hash;
  std::ofstream(file) << "cut short";
  EXPECT_EQ(store.blob(*hash).error().code, Code::unreadable_file)
      << "its bytes are not its name's";
  EXPECT_TRUE(store.keep(picture)) << "and is kept anew";
  EXPECT_EQ(*store.blob(*hash), picture);
  EXPECT_FALSE(store.blob("../../etc/passwd"));
}

TEST_F(Shelf, ABlobOnAFullDiskLeavesNothing) {
  Store store = opened(path());
  rlimit old{};
  ::getrlimit(RLIMIT_FSIZE, &old);
  const rlimit small{4096, old.rlim_max};
  const auto handler = ::signal(SIGXFSZ, SIG_IGN);
  ::setrlimit(RLIMIT_FSIZE, &small);
  const auto kept = store.keep(std::string(100'000, 'y'));
  ::setrlimit(RLIMIT_FSIZE, &old);
  ::signal(SIGXFSZ, handler);
  ASSERT_FALSE(kept);
  EXPECT_EQ(kept.error().code, Code::unwritable_file);
  for (const auto& entry : fs::recursive_directory_iterator(path() + ".blobs"))
    EXPECT_FALSE(entry.is_regular_file()) << entry;
  EXPECT_TRUE(store.keep(std::string(100'000, 'y'))) << "goes on when there is room";
}

TEST_F(Shelf, AChildThatIsKilledLosesNothingItAnsweredFor) {
  for (int round = 1; round <= 8; ++round) {
    const std::string file = path(("kill-" + std::to_string(round)).c_str());
    int answers[2];
    ASSERT_EQ(::pipe(answers), 0);
    const pid_t child = ::fork();
    if (child == 0) {
      auto store = Store::open(file);
      const Machine machine = test_machine();
      for (int i = 0; store && i < 300; ++i) {
        if (!store->enter(test_job, note(i), "t", machine)) ::_exit(1);
        const char answer = 'a';
        if (::write(answers[1], &answer, 1) != 1) ::_exit(1);
      }
      ::_exit(0);
    }
    ::close(answers[1]);
    char answer = 0;
    int count = 0;
    while (count < 5 * round && ::read(answers[0], &answer, 1) == 1) ++count;
    ::kill(child, SIGKILL);
    while (::read(answers[0], &answer, 1) == 1) ++count;
    ::close(answers[0]);
    ::waitpid(child, nullptr, 0);
    Store store = opened(file);
    const auto log = wire::read_log(*store.log(test_job), "t");
    EXPECT_GE(log->events().size(), static_cast<std::size_t>(count));
    EXPECT_LE(log->events().size(), static_cast<std::size_t>(count) + 1);
    EXPECT_TRUE(job::check_log(*log).empty());
  }
}

TEST_F(Shelf, AStoreOfALaterVersionIsRefused) {
  {
    opened(path());
  }
  auto database = Database::open(path());
  ASSERT_TRUE(database->run("PRAGMA user_version = 99"));
  const auto store = Store::open(path());
  ASSERT_FALSE(store);
  EXPECT_EQ(store.error().code, Code::unreadable_file);
  std::ofstream(path("text"))
      << "this is no database, and long enough to be told from an empty file";
  EXPECT_FALSE(Store::open(path("text")));
}

/// tests/upgrade/<version>/store.sql makes a store as that version wrote it; log.jsonl is what it
/// must still answer.
TEST_F(Shelf, EveryOlderStoreIsBroughtForward) {
  int looked_at = 0;
  for (const auto& shelf :
       fs::directory_iterator(fs::path(BELLHOLE_SOURCE_DIR) / "tests/upgrade")) {
    if (!shelf.is_directory()) continue;
    ++looked_at;
    const std::string file = path(shelf.path().filename().c_str());
    {
      auto database = Database::open(file);
      const auto made = database->run(read(shelf.path() / "store.sql"));
      ASSERT_TRUE(made) << made.error().value;
    }
    Store store = opened(file);
    const auto jobs = store.jobs();
    ASSERT_TRUE(jobs && !jobs->empty());
    EXPECT_EQ(*store.log(jobs->front().job), read(shelf.path() / "log.jsonl"));
    EXPECT_TRUE(store.rebuild());
    const auto log = wire::read_log(*store.log(jobs->front().job), "t");
    ASSERT_TRUE(log);
    EXPECT_TRUE(job::check_log(*log).empty());
    EXPECT_TRUE(store.enter(jobs->front().job, note(1), "t", test_machine("")));
  }
  EXPECT_GE(looked_at, 1);
}

}  // namespace
}  // namespace bellhole::store
