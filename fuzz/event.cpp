// One line of a log: whatever bytes come in are an event that seals and reads back alike, or
// trouble that says where and what to do.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string_view>

#include "wire/event.hpp"

namespace {

using namespace bellhole;

void must(bool holds) {
  if (!holds) std::abort();
}

void must_help(const Trouble& trouble) { must(!trouble.fix.empty() && !trouble.where.empty()); }

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text{reinterpret_cast<const char*>(data), size};
  const auto event = wire::read_event(text, "line");
  if (!event) {
    must_help(event.error());
  } else {
    must(event->sequence >= 1 && event->hash.size() == 64 && std::isfinite(event->monotonic.si()));
    must(job::read_moment(job::print_moment(event->happened_at), "t") == event->happened_at);
    const auto seal = wire::seal_of(text, "line");
    must(seal && seal->holds == event->sealed);
  }
  // The same bytes as a draft: entered and read back, or refused.
  const auto json = wire::parse_json(text, "draft", wire::event_cap);
  if (!json || !wire::is_draft(*json)) return 0;
  const auto line = wire::enter(
      *json, {.job = "019abcde-0000-7000-8000-000000000001", .device = "d", .boot = "b"}, "draft");
  if (!line) {
    must_help(line.error());
    return 0;
  }
  const auto again = wire::read_event(*line, "line");
  must(again && again->sealed && line->find('\n') == std::string::npos);
  return 0;
}
