// Requests: whatever bytes come in, the reply is a document and never a fault of Bellhole.
#include <cstdint>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "ask/ask.hpp"

namespace {

/// Long work is only begun here.
class Impatient final : public bellhole::Watch {
 public:
  bool tick(double) override { return ++ticks_ < 16; }

 private:
  int ticks_ = 0;
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace bellhole;
  const ask::Library library;
  Impatient watch;
  OneLane lanes;
  const auto reply = ask::ask({reinterpret_cast<const char*>(data), size}, {library, watch, lanes});
  const auto document = nlohmann::json::parse(reply.document, nullptr, false);
  const bool refused = reply.outcome == ask::Outcome::bad_input;
  if (!document.is_object() || reply.outcome == ask::Outcome::fault ||
      document.contains("trouble") != refused)
    std::abort();
  return 0;
}
