#include "tests/unit/store/support.hpp"

#include <memory>

namespace bellhole::store {

Machine test_machine(std::string device) {
  auto tick = std::make_shared<std::int64_t>(0);
  return {std::move(device), "boot-1",
          [tick] { return job::Moment{{1'764'000'000'000 + 1000 * ++*tick}, 0}; },
          [tick] { return Duration::from_si(static_cast<double>(*tick)); },
          [tick] {
            std::array<std::uint8_t, 10> random{};
            for (std::size_t i = 0; i < random.size(); ++i)
              random[i] = static_cast<std::uint8_t>(*tick >> (8 * (i % 4)));
            return random;
          }};
}

std::string note(int number) {
  return R"({"kind": "note", "source": "tapped", "fact": {"says": "note )" +
         std::to_string(number) + "\"}}";
}

}  // namespace bellhole::store
