#include "procedure/when.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bellhole::procedure {
namespace {

/// Two conversions of the same typed value may differ in their last bits; a limit is not missed by
/// those.
constexpr double hair = 1e-9;

struct End {
  double at;
  bool closed;
};

End low_of(const Range& range) {
  if (range.above && (!range.from || *range.above >= *range.from)) return {*range.above, false};
  if (range.from) return {*range.from, true};
  return {-std::numeric_limits<double>::infinity(), true};
}

End high_of(const Range& range) {
  if (range.below && (!range.up_to || *range.below <= *range.up_to)) return {*range.below, false};
  if (range.up_to) return {*range.up_to, true};
  return {std::numeric_limits<double>::infinity(), true};
}

bool same(double a, double b) {
  if (a == b || !std::isfinite(a) || !std::isfinite(b)) return a == b;
  return std::abs(a - b) <= hair * std::max(std::abs(a), std::abs(b));
}

bool inside_low(double value, End low) { return same(value, low.at) ? low.closed : value > low.at; }
bool inside_high(double value, End high) {
  return same(value, high.at) ? high.closed : value < high.at;
}

Applies in_range(const Range& range, const Between& value) {
  const End low = low_of(range);
  const End high = high_of(range);
  const bool low_in = inside_low(value.low, low) && inside_high(value.low, high);
  const bool high_in = inside_low(value.high, low) && inside_high(value.high, high);
  if (low_in && high_in) return Applies::yes;
  const bool wholly_below = !inside_low(value.high, low);
  const bool wholly_above = !inside_high(value.low, high);
  return wholly_below || wholly_above ? Applies::no : Applies::unknown;
}

bool ranges_overlap(const Range& a, const Range& b) {
  const End low =
      low_of(a).at > low_of(b).at || (same(low_of(a).at, low_of(b).at) && !low_of(a).closed)
          ? low_of(a)
          : low_of(b);
  const End high =
      high_of(a).at < high_of(b).at || (same(high_of(a).at, high_of(b).at) && !high_of(a).closed)
          ? high_of(a)
          : high_of(b);
  return same(low.at, high.at) ? low.closed && high.closed : low.at < high.at;
}

bool range_contains(const Range& outer, const Range& inner) {
  const End ol = low_of(outer), il = low_of(inner), oh = high_of(outer), ih = high_of(inner);
  const bool low = same(ol.at, il.at) ? ol.closed || !il.closed : ol.at < il.at;
  const bool high = same(oh.at, ih.at) ? oh.closed || !ih.closed : oh.at > ih.at;
  return low && high;
}

bool has(const std::vector<std::string>& list, const std::string& word) {
  return std::ranges::find(list, word) != list.end();
}

}  // namespace

Applies applies(const When& when, const Case& in, std::vector<std::string_view>* missing) {
  Applies worst = Applies::yes;
  std::vector<std::string_view> unknown;
  for (std::size_t i = 0; i < listed_names.size(); ++i) {
    if (when.listed[i].empty()) continue;
    if (!in.listed[i]) {
      worst = std::min(worst, Applies::unknown);
      unknown.push_back(listed_names[i]);
    } else if (!has(when.listed[i], *in.listed[i])) {
      return Applies::no;
    }
  }
  for (std::size_t i = 0; i < ranged_names.size(); ++i) {
    if (!when.ranged[i].named()) continue;
    const Applies here = in.ranged[i] ? in_range(when.ranged[i], *in.ranged[i]) : Applies::unknown;
    if (here == Applies::no) return Applies::no;
    if (here == Applies::unknown) unknown.push_back(ranged_names[i]);
    worst = std::min(worst, here);
  }
  if (missing != nullptr) missing->insert(missing->end(), unknown.begin(), unknown.end());
  return worst;
}

int specificity(const When& when) {
  const auto lists =
      std::ranges::count_if(when.listed, [](const auto& list) { return !list.empty(); });
  const auto ranges = std::ranges::count_if(when.ranged, &Range::named);
  // A list of sizes carries its range of diameters along; that is one condition, not two.
  const bool both = !when.listed[static_cast<std::size_t>(Listed::size)].empty() &&
                    when.ranged[static_cast<std::size_t>(Ranged::od)].named();
  return static_cast<int>(lists + ranges) - (both ? 1 : 0);
}

bool overlap(const When& a, const When& b) {
  for (std::size_t i = 0; i < listed_names.size(); ++i) {
    if (a.listed[i].empty() || b.listed[i].empty()) continue;
    if (std::ranges::none_of(a.listed[i], [&](const auto& word) { return has(b.listed[i], word); }))
      return false;
  }
  for (std::size_t i = 0; i < ranged_names.size(); ++i) {
    if (!ranges_overlap(a.ranged[i], b.ranged[i])) return false;
  }
  return true;
}

bool contains(const When& outer, const When& inner) {
  for (std::size_t i = 0; i < listed_names.size(); ++i) {
    if (outer.listed[i].empty()) continue;
    if (inner.listed[i].empty()) return false;
    if (!std::ranges::all_of(inner.listed[i],
                             [&](const auto& word) { return has(outer.listed[i], word); }))
      return false;
  }
  for (std::size_t i = 0; i < ranged_names.size(); ++i) {
    if (!range_contains(outer.ranged[i], inner.ranged[i])) return false;
  }
  return true;
}

}  // namespace bellhole::procedure
