#include "wire/event.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "wire/fact_reader.hpp"

namespace bellhole::wire {
namespace {

constexpr std::string_view seal_begins = ",\"hash\":\"";
constexpr std::size_t hash_length = 64, seal_length = seal_begins.size() + hash_length + 2;
constexpr std::int64_t version = 1;

bool is_hash(std::string_view text) {
  return text.size() == hash_length &&
         text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

Result<job::Hash> hash_at(const std::string& text, const std::string& where) {
  if (!is_hash(text))
    return trouble(Code::unreadable_value, where, text, "give a SHA-256 as 64 small hex digits");
  return text;
}

Result<bool> read_chain(const Object& object, job::Event& event) {
  BELLHOLE_TRY(sequence, object.whole("sequence"));
  if (!sequence || *sequence < 1)
    return trouble(Code::out_of_range, object.at("sequence"),
                   sequence ? std::to_string(*sequence) : "",
                   "give the number of the event on its device: 1, 2, 3 …");
  BELLHOLE_TRY(previous, object.text("previous"));
  BELLHOLE_TRY(seen, object.texts("seen"));
  event.sequence = *sequence;
  if (previous) {
    BELLHOLE_TRY(hash, hash_at(*previous, object.at("previous")));
    event.previous = hash;
  }
  if (event.previous.empty() != (event.sequence == 1))
    return trouble(Code::contradiction, object.at("previous"), previous.value_or("none"),
                   "the first event of a device names none before it, every other names one");
  for (const std::string& text : seen) {
    BELLHOLE_TRY(hash, hash_at(text, object.at("seen")));
    event.seen.push_back(hash);
  }
  return true;
}

Result<bool> read_clocks(const Object& object, job::Event& event) {
  for (const auto& [key, into] :
       {std::pair("happened_at", &event.happened_at), std::pair("entered_at", &event.entered_at)}) {
    BELLHOLE_TRY(text, object.need_text(key, "give date, time and offset (RFC 3339)"));
    BELLHOLE_TRY(moment, job::read_moment(text, object.at(key)));
    *into = moment;
  }
  BELLHOLE_TRY(boot, object.need_text("boot", "say since when the monotonic clock runs"));
  BELLHOLE_TRY(monotonic, object.need<kinds::Duration>("monotonic", "give the monotonic clock"));
  event.boot = boot;
  event.monotonic = monotonic;
  return true;
}

Result<bool> read_who(const Object& object, job::Event& event) {
  BELLHOLE_TRY(by, object.text("by"));
  BELLHOLE_TRY(source, object.need_text("source", "tapped, typed, sensor or imported"));
  BELLHOLE_TRY(which,
               one_of(source, {"tapped", "typed", "sensor", "imported"}, object.at("source")));
  event.by = by.value_or("");
  event.source = static_cast<job::Source>(which);
  return true;
}

Result<bool> read_names(const Object& object, job::Event& event) {
  for (const auto& [key, into] : {std::pair("id", &event.id), std::pair("job", &event.job)}) {
    BELLHOLE_TRY(text, object.need_text(key, "give a UUID of version 7"));
    if (!job::time_of_uuid(text))
      return trouble(Code::unreadable_value, object.at(key), text,
                     "give a UUID of version 7 (RFC 9562)");
    *into = text;
  }
  BELLHOLE_TRY(device, object.need_text("device", "name the device that the event was entered on"));
  if (device.size() > 64 || device.empty())
    return trouble(Code::out_of_range, object.at("device"), device, "use 1 to 64 characters");
  event.device = device;
  return true;
}

/// A fact of this version, or the word of one that it does not know.
Result<job::Fact> fact_of(const Object& object, bool of_this_version) {
  BELLHOLE_TRY(kind, object.need_text("kind", "say what kind of fact it is"));
  BELLHOLE_TRY(inner, object.object("fact"));
  if (!of_this_version || !is_kind(kind)) return job::Fact{job::Unknown{kind}};
  if (!inner)
    return trouble(Code::missing_value, object.at("fact"), kind, "give the fact as an object");
  return read_fact(kind, *inner);
}

}  // namespace

Result<std::string> seal(std::string_view object) {
  if (!object.starts_with('{') || !object.ends_with('}') || object.size() < 3 ||
      object.find('\n') != std::string_view::npos)
    return trouble(Code::unreadable_document, "event", std::string(object.substr(0, 40)),
                   "an event is one object on one line");
  return std::string(object.substr(0, object.size() - 1)) + std::string(seal_begins) +
         sha256(object) + "\"}";
}

Result<Seal> seal_of(std::string_view line, std::string_view where) {
  const bool ends = line.size() > seal_length && line.ends_with("\"}") &&
                    line.substr(line.size() - seal_length).starts_with(seal_begins);
  const std::string_view hash =
      ends ? line.substr(line.size() - hash_length - 2, hash_length) : std::string_view();
  if (!ends || !is_hash(hash))
    return trouble(Code::unreadable_document, std::string(where),
                   std::string(line.substr(line.size() - std::min<std::size_t>(line.size(), 40))),
                   "an event ends in its seal: ,\"hash\":\"…\"}");
  Seal seal{std::string(line.substr(0, line.size() - seal_length)) + "}", std::string(hash), false};
  seal.holds = sha256(seal.body) == seal.hash;
  return seal;
}

Result<job::Event> read_event(std::string_view line, std::string_view where) {
  BELLHOLE_TRY(sealed, seal_of(line, where));
  BELLHOLE_TRY(json, parse_json(sealed.body, where, event_cap));
  std::vector<std::string> assumed;
  BELLHOLE_TRY(object, Object::of(json, std::string(where), &assumed));
  BELLHOLE_TRY(document, object.text("document"));
  BELLHOLE_TRY(written, object.whole("version"));
  if (document != "bellhole.event" || !written || *written < version)
    return trouble(Code::unreadable_document, object.at("document"), document.value_or(""),
                   "give a document bellhole.event, version 1");
  job::Event event;
  event.hash = sealed.hash;
  event.sealed = sealed.holds;
  for (const auto& read : {read_names(object, event), read_chain(object, event),
                           read_clocks(object, event), read_who(object, event)})
    if (!read) return std::unexpected(read.error());
  BELLHOLE_TRY(fact, fact_of(object, *written == version));
  event.fact = std::move(fact);
  if (*written == version)
    if (const auto done = object.done(); !done) return std::unexpected(done.error());
  return event;
}

Result<std::vector<Line>> read_lines(std::string_view bytes, std::string_view name) {
  if (bytes.size() > log_cap_bytes)
    return trouble(Code::too_large, std::string(name), fmt::format("{} bytes", bytes.size()),
                   fmt::format("at most {} bytes of a log are read", log_cap_bytes));
  std::vector<Line> lines;
  for (std::size_t number = 1; !bytes.empty(); ++number) {
    const auto end = std::min(bytes.find('\n'), bytes.size());
    std::string_view line = bytes.substr(0, end);
    bytes.remove_prefix(std::min(end + 1, bytes.size()));
    if (line.ends_with('\r')) line.remove_suffix(1);
    if (line.find_first_not_of(" \t") == std::string_view::npos) continue;
    lines.push_back({number, line, read_event(line, fmt::format("{}, line {}", name, number))});
  }
  return lines;
}

std::string text_in(const Json& object, const char* key, const std::string& otherwise) {
  if (!object.is_object()) return otherwise;
  const auto found = object.find(key);
  return found != object.end() && found->is_string() ? found->get<std::string>() : otherwise;
}

bool is_draft(const Json& json) {
  return json.is_object() && json.contains("kind") && !json.contains("document") &&
         !json.contains("hash");
}

Result<std::string> enter(const Json& draft, const Entering& entering, std::string_view where) {
  std::vector<std::string> assumed;
  BELLHOLE_TRY(object, Object::of(draft, std::string(where), &assumed));
  BELLHOLE_TRY(happened, object.text("happened_at"));
  BELLHOLE_TRY(source, object.text("source"));
  for (const char* key : {"kind", "fact", "by"}) object.know(key);
  if (const auto done = object.done(); !done) return std::unexpected(done.error());
  Json json;
  json["document"] = "bellhole.event";
  json["version"] = version;
  json["id"] = job::uuid_v7(entering.entered_at.at, entering.random);
  json["job"] = entering.job;
  json["device"] = entering.device;
  json["sequence"] = entering.sequence;
  json["previous"] = entering.previous.empty() ? Json(nullptr) : Json(entering.previous);
  json["seen"] = entering.seen;
  json["happened_at"] = happened.value_or(job::print_moment(entering.entered_at));
  json["entered_at"] = job::print_moment(entering.entered_at);
  json["boot"] = entering.boot;
  put(json, "monotonic", entering.monotonic);
  if (draft.contains("by")) json["by"] = draft.at("by");
  json["source"] = source.value_or("typed");
  json["kind"] = draft.value("kind", Json());
  json["fact"] = draft.value("fact", Json());
  BELLHOLE_TRY(line, seal(json.dump(-1, ' ', false, Json::error_handler_t::replace)));
  BELLHOLE_TRY(read, read_event(line, where));
  if (const auto* unknown = std::get_if<job::Unknown>(&read.fact.is))
    return trouble(Code::unreadable_value, object.at("kind"), unknown->kind,
                   "this is no kind of event; docs/handbook/records.md lists them");
  return line;
}

}  // namespace bellhole::wire
