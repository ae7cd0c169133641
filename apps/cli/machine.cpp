#include "apps/cli/machine.hpp"

#include <sys/random.h>
#include <time.h>

#include <fstream>

namespace bellhole::cli {
namespace {

std::string boot_id() {
  std::string id;
  std::ifstream("/proc/sys/kernel/random/boot_id") >> id;
  return id.empty() ? "unknown" : id;
}

job::Moment now() {
  timespec time{};
  clock_gettime(CLOCK_REALTIME, &time);
  tm local{};
  localtime_r(&time.tv_sec, &local);
  return {{time.tv_sec * 1000LL + time.tv_nsec / 1'000'000},
          static_cast<int>(local.tm_gmtoff / 60)};
}

Duration since_boot() {
  timespec time{};
  clock_gettime(CLOCK_BOOTTIME, &time);
  return Duration::from_si(static_cast<double>(time.tv_sec) +
                           1e-9 * static_cast<double>(time.tv_nsec));
}

std::array<std::uint8_t, 10> random_bits() {
  std::array<std::uint8_t, 10> bits{};
  std::size_t have = 0;
  while (have < bits.size()) {
    const ssize_t got = ::getrandom(bits.data() + have, bits.size() - have, 0);
    if (got > 0) have += static_cast<std::size_t>(got);
  }
  return bits;
}

}  // namespace

store::Machine this_machine(const std::string& device) {
  return {device, boot_id(), now, since_boot, random_bits};
}

}  // namespace bellhole::cli
