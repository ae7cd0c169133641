// The phone's door: what JavaScript calls (engine.mjs is its other half). Texts go in as address
// and size in this module's memory, taken with alloc() and given back with free(); the result of
// the last call lies at result_data(), result_size() bytes, until the next call. Outcomes are those
// of ask::Outcome.
#include <cstddef>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "apps/browser/door.hpp"
#include "ask/library.hpp"
#include "wire/json.hpp"

#define BELLHOLE_EXPORT(name) extern "C" __attribute__((export_name(#name)))

namespace {

using bellhole::ask::Outcome;

bellhole::ask::Library& library() {
  static bellhole::ask::Library loaded;
  return loaded;
}

std::string& result() {
  static std::string text;
  return text;
}

}  // namespace

BELLHOLE_EXPORT(alloc) char* bellhole_alloc(std::size_t size) {
  return static_cast<char*>(std::malloc(size));
}
BELLHOLE_EXPORT(free) void bellhole_free(char* address) { std::free(address); }

BELLHOLE_EXPORT(result_data) const char* bellhole_result_data() { return result().data(); }
BELLHOLE_EXPORT(result_size) std::size_t bellhole_result_size() { return result().size(); }

/// The result is the document's hash, or a document with the trouble. `where` names the document
/// for trouble.
BELLHOLE_EXPORT(load)
int bellhole_load(const char* kind, std::size_t kind_size, const char* bytes,
                  std::size_t bytes_size, const char* where, std::size_t where_size) {
  const auto hash = library().load({kind, kind_size}, {bytes, bytes_size}, {where, where_size});
  if (hash) {
    result() = *hash;
    return static_cast<int>(Outcome::answered);
  }
  bellhole::wire::Json reply;
  reply["engine"] = bellhole::wire::engine_version();
  reply["trouble"] = bellhole::wire::to_json(hash.error());
  result() = bellhole::wire::text_of(reply);
  return static_cast<int>(Outcome::bad_input);
}

/// The result is the reply document.
BELLHOLE_EXPORT(ask) int bellhole_ask(const char* request, std::size_t size) {
  bellhole::Unwatched watch;
  bellhole::OneLane lanes;
  auto reply = bellhole::browser::answer({request, size}, {library(), watch, lanes});
  result() = std::move(reply.document);
  return static_cast<int>(reply.outcome);
}

BELLHOLE_EXPORT(drop) void bellhole_drop(const char* hash, std::size_t size) {
  library().drop(std::string(hash, size));
}
