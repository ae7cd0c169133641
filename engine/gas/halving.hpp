// The zero of a function that only falls, by halving: slow, but nothing can make it miss.
#pragma once

namespace bellhole::gas {

/// REQUIRES: f falls from `low` to `high` and changes sign between. Answers to the last bits; the
/// nearer end where it does not change sign.
template <class F>
double falls_through(double low, double high, const F& f) {
  constexpr int halvings = 100;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    if (!(middle > low && middle < high)) break;
    (f(middle) > 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace bellhole::gas
