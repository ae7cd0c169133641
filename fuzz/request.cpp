// Requests: whatever bytes come in, the reply is a document and never a fault of Bellhole.
#include <cstdint>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "ask/ask.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace bellhole;
  const ask::Library library;
  Unwatched watch;
  OneLane lanes;
  const auto reply = ask::ask({reinterpret_cast<const char*>(data), size}, {library, watch, lanes});
  const auto document = nlohmann::json::parse(reply.document, nullptr, false);
  const bool refused = reply.outcome == ask::Outcome::bad_input;
  if (!document.is_object() || reply.outcome == ask::Outcome::fault ||
      document.contains("trouble") != refused)
    std::abort();
  return 0;
}
