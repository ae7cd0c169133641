// What the compressed gas would let go at once, and how far people keep off.
#include <algorithm>
#include <cmath>

#include "restore/test_work.hpp"

namespace bellhole::restore {

void find_energy(const TestWork& work) {
  const TestQuestion& q = work.question;
  work.tested.keep_off = work.used<kinds::Length>("test.keep_off", "ends");
  if (!q.volume) return;
  GaugePressure highest;
  for (const auto& pressure : {work.tested.least, work.tested.fill})
    highest = std::max(highest, pressure.value_or(highest));
  if (q.start) highest = std::max(highest, q.start->pressure);
  constexpr double g = 1.4;  // isentropic expansion of a diatomic gas
  const double p0 = q.barometer.si(), p = highest.si() + p0;
  if (!(p > p0)) return;
  work.tested.energy_j = p * q.volume->si() / (g - 1.0) * (1.0 - std::pow(p0 / p, (g - 1.0) / g));
}

}  // namespace bellhole::restore
