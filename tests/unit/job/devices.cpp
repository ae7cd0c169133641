#include "tests/unit/job/devices.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "wire/job.hpp"

namespace bellhole::job {

using wire::Json;

std::string Lines::text() const {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

Log Lines::log() const {
  std::vector<Event> events;
  for (const std::string& line : lines) {
    auto event = wire::read_event(line, "line");
    EXPECT_TRUE(event) << (event ? "" : event.error().where + " " + event.error().fix);
    if (event) events.push_back(*event);
  }
  return Log::of(std::move(events));
}

Device::Device(std::string name, std::string by, Instant starts)
    : name_(std::move(name)), by_(std::move(by)), wall_(starts) {}

Device& Device::wait(double seconds) {
  monotonic_ += seconds;
  return set_wall(seconds);
}

Device& Device::set_wall(double by_seconds) {
  wall_.ms += static_cast<std::int64_t>(by_seconds * 1000.0);
  return *this;
}

void Device::restart(const std::string& boot) {
  boot_ = boot;
  monotonic_ = 0.0;
}

Hash Device::enter(const std::string& kind, const std::string& fact, const std::string& more) {
  Json draft = Json::parse(more);
  draft["kind"] = kind;
  draft["fact"] = Json::parse(fact);
  if (!draft.contains("by") && !by_.empty()) draft["by"] = by_;
  if (!draft.contains("source")) draft["source"] = "tapped";
  wire::Entering entering{.job = test_job,
                          .device = name_,
                          .boot = boot_,
                          .sequence = ++sequence_,
                          .previous = previous_,
                          .seen = {},
                          .entered_at = {wall_, 0},
                          .monotonic = Duration::from_si(monotonic_),
                          .random = {++random_}};
  for (const auto& [device, head] : heads_) entering.seen.push_back(head);
  const auto line = wire::enter(draft, entering, "test");
  EXPECT_TRUE(line) << (line ? ""
                             : line.error().where + ": " + line.error().value + " " +
                                   line.error().fix);
  own_.lines.push_back(line.value_or(""));
  all_.lines.push_back(line.value_or(""));
  previous_ = wire::seal_of(line.value_or(""), "test")->hash;
  return previous_;
}

void Device::learn(const Device& other) {
  for (const std::string& line : other.all_.lines)
    if (std::ranges::find(all_.lines, line) == all_.lines.end()) all_.lines.push_back(line);
  for (const auto& [device, head] : other.heads_)
    if (device != name_) heads_[device] = head;
  if (!other.previous_.empty()) heads_[other.name_] = other.previous_;
}

std::string hash_of(char digit) { return std::string(64, digit); }

std::string small_plan(const std::string& plan_id, char result) {
  const auto step = [](const char* id, const char* kind, const char* about, bool hold, int names) {
    return Json{{"id", id},
                {"kind", kind},
                {"does", std::string("Do ") + id + "."},
                {"about", about},
                {"hold_point", hold},
                {"names_needed", names},
                {"after", Json::array()}};
  };
  Json plan{{"plan_id", plan_id}, {"result", hash_of(result)}, {"engine", "bellhole test"}};
  plan["steps"] = {
      step("brief", "report", "", false, 1),       step("identify-A", "identify", "A", true, 2),
      step("squeeze-A", "shut", "A", false, 0),    step("squeeze-B", "shut", "B", false, 0),
      step("let-by", "let_by_watch", "", true, 1), step("cut", "cut", "", false, 0),
      step("test", "test", "", true, 1),           step("open-A", "open", "A", false, 0),
      step("open-B", "open", "B", false, 0),       step("relight", "relight", "", false, 0)};
  plan["steps"][5]["after"] = {"squeeze-A", "squeeze-B"};
  plan["steps"][4]["gauges"] = {
      {{"point", "A-part"}, {"at", "part side of A"}, {"high_pa_gauge", 2000.0}}};
  const Json pipe{
      {"size", "IPS 4"}, {"dr", 11.5}, {"material", "PE2708"}, {"stop", {"S-4-11.5@0.547in"}}};
  for (const char* letter : {"A", "B"})
    plan["shutoffs"].push_back({{"id", letter},
                                {"kind", "squeeze"},
                                {"element", "M-1"},
                                {"station_m", letter[0] == 'A' ? 20.0 : 80.0},
                                {"pipe", pipe}});
  plan["prompts"] = {"Extinguisher manned"};
  plan["meters"] = {"c-1", "c-2"};
  return plan.dump();
}

}  // namespace bellhole::job
