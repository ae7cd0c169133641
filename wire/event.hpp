// Events as lines of text, one JSON document a line: "bellhole.event", version 1. The layout is
// schema/event.schema.json, explained in docs/handbook/records.md.
//
// A line ends in its own seal: …,"hash":"<64 hex>"}. The hash is the SHA-256 of the line's bytes
// with the seal taken out (the object without its last member), so it covers the bytes exactly as
// they were written and needs no canonical form. A line is stored and handed on byte for byte.
#pragma once

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/event.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// A plan with its steps stands in one event; nothing else comes near this.
inline constexpr Cap event_cap{1u << 20, 16};
inline constexpr std::size_t log_cap_bytes = std::size_t{256} << 20;

/// Puts the seal on the text of an object (on one line, without a hash of its own).
/// Errors: unreadable_document where the text is no such object.
Result<std::string> seal(std::string_view object);

struct Seal {
  std::string body;  ///< the object as it was hashed
  job::Hash hash;    ///< as the line claims
  bool holds = false;
};
/// Takes a line's seal off and holds it against the bytes. Errors: unreadable_document (no seal at
/// the end).
Result<Seal> seal_of(std::string_view line, std::string_view where);

/// Reads a line. An event whose seal does not hold is read all the same, with `sealed` false. A
/// later version, or a kind that this version does not know, reads as job::Unknown. Errors:
/// too_large, unreadable_document, missing_value, unreadable_value …, each naming the key.
Result<job::Event> read_event(std::string_view line, std::string_view where);

/// One fact, by its word. `object` holds the keys of "fact". Errors: as read_event;
/// unreadable_value for a word that is no kind.
Result<job::Fact> read_fact(const std::string& kind, const Object& object);

/// Lines of a log file: "job.log, line 4", its bytes without the line's end, and what was read.
/// Empty lines are passed over.
struct Line {
  std::size_t number = 0;
  std::string_view bytes;
  Result<job::Event> event;
};
/// Errors: too_large.
Result<std::vector<Line>> read_lines(std::string_view bytes, std::string_view name);

/// What a door adds to a fact when it enters it into a log.
struct Entering {
  std::string job, device, boot;
  std::int64_t sequence = 1;
  job::Hash previous;
  std::vector<job::Hash> seen;
  job::Moment entered_at;
  Duration monotonic;
  std::array<std::uint8_t, 10> random{};
};

/// Makes a sealed line from a draft {kind, fact, source, by, happened_at}; only kind and fact must
/// be there: a source that is not given is "typed", a time that is not given is now. Errors: those
/// of read_event; the line is read back before it is answered.
Result<std::string> enter(const Json& draft, const Entering& entering, std::string_view where);

/// The text under a key of an object; `otherwise` where it is missing or of another kind.
std::string text_in(const Json& object, const char* key, const std::string& otherwise = {});

/// Whether a line is a draft (it has a kind and neither seal nor document).
bool is_draft(const Json& json);

/// The first events of a job from a plan document: opened and planned, as drafts. `plan` is the
/// reply of the question plan, `rank` the plan of it that was chosen. Errors: those of
/// read_plan_document; unknown_element without a plan of that rank.
Result<std::vector<Json>> drafts_of_plan(std::string_view plan, std::string_view name,
                                         std::int64_t rank, const Json& opened);

}  // namespace bellhole::wire
