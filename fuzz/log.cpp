// A log file: whatever lines come in, the fold ends, is the same backwards, and the audit answers
// or says why not.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "wire/job.hpp"
#include "wire/profile.hpp"

namespace {

using namespace bellhole;

void must(bool holds) {
  if (!holds) std::abort();
}

std::string backwards(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const auto end = text.rfind('\n', text.size() - 1);
    const std::size_t from = end == std::string_view::npos ? 0 : end + 1;
    out += std::string(text.substr(from)) + "\n";
    text = text.substr(0, end == std::string_view::npos ? 0 : end);
  }
  return out;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text{reinterpret_cast<const char*>(data), size};
  const auto lines = wire::read_lines(text, "log");
  if (!lines) return 0;
  for (const job::ChainFault& fault : job::check_file(wire::log_lines(*lines), {}))
    must(!fault.says.empty());
  const auto log = wire::read_log(text, "log");
  if (!log) {
    must(!log.error().fix.empty() && !log.error().where.empty());
    return 0;
  }
  const job::State state = job::fold(*log);
  const std::string shown =
      wire::state_json(*log, state).dump(-1, ' ', false, wire::Json::error_handler_t::replace);
  const auto reversed = wire::read_log(backwards(text), "log");
  must(reversed.has_value());
  must(wire::state_json(*reversed, job::fold(*reversed))
           .dump(-1, ' ', false, wire::Json::error_handler_t::replace) == shown);
  for (const job::Did free : {job::Did::shut}) must(job::reasons_against(state, free, "A").empty());
  if (!state.cut()) must(job::reasons_against(state, job::Did::undone, "A").empty());
  static const auto profile = wire::built_in_profile("us");
  const auto audit = job::audit(*log, state, {*profile, units::System::us, Length::from_si(1e-4)});
  if (!audit) must(!audit.error().fix.empty());
  must(job::handover(state, units::System::us).words > 0);
  return 0;
}
