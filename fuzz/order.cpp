// Orders and plan documents: whatever bytes come in, reading ends in a value or in trouble, and
// what was read can be checked.
#include <cstdint>
#include <string_view>

#include "plan/step_check.hpp"
#include "wire/order.hpp"
#include "wire/steps.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace bellhole;
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  static_cast<void>(wire::read_order(bytes, "order"));
  if (const auto document = wire::read_plan_document(bytes, "steps")) {
    for (const wire::PlanOnPaper& paper : document->plans)
      static_cast<void>(plan::check_steps(paper.checked));
  }
  return 0;
}
