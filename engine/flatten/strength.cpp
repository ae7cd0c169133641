#include "flatten/strength.hpp"
#include "flatten/grades.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace bellhole::flatten {
namespace {

constexpr double best_grade_pa = 25e6;
constexpr std::array<std::pair<std::string_view, double>, 7> grades{{{"PE4710", 1.0},
                                                                     {"PE100", 1.0},
                                                                     {"PE3408", 0.9},
                                                                     {"PE3608", 0.9},
                                                                     {"PE2406", 0.775},
                                                                     {"PE2708", 0.775},
                                                                     {"PE80", 0.775}}};
constexpr double per_kelvin = 0.0128, reference_k = 296.15, reference_rate = 0.01;
constexpr double coldest_k = 263.15, warmest_k = 343.15;
constexpr double stiffness = 40.0;
constexpr double relaxing_per_closing = 1.0 / 400.0;

}  // namespace

std::optional<double> share_of(std::string_view material, Temperature pipe) {
  const auto grade = std::ranges::find(grades, material, &decltype(grades)::value_type::first);
  if (grade == grades.end()) return std::nullopt;
  const double share = grade->second * (1.0 - per_kelvin * (pipe.si() - reference_k));
  return share > 0.0 ? std::optional(share) : std::nullopt;
}

std::vector<std::vector<std::string_view>> grades_alike() {
  std::vector<std::vector<std::string_view>> groups;
  double share = 0.0;
  for (const auto& [name, of_best] : grades) {
    if (groups.empty() || of_best != share) groups.emplace_back();
    share = of_best;
    groups.back().push_back(name);
  }
  return groups;
}

bool is_extrapolated(Temperature pipe) { return pipe.si() < coldest_k || pipe.si() > warmest_k; }

std::optional<Strength> strength_of(std::string_view material, Temperature pipe, Duration closing) {
  const auto share = share_of(material, pipe);
  const double rate = 1.0 + per_decade * std::log10(0.5 / closing.si() / reference_rate);
  const double yield = best_grade_pa * share.value_or(0.0) * rate;
  if (!(yield > 0.0)) return std::nullopt;
  return Strength{Stress::from_si(yield), Stress::from_si(stiffness * yield),
                  is_extrapolated(pipe)};
}

Temperature coldest_for(Temperature pipe, double share) {
  const double warmth = (1.0 - per_kelvin * (pipe.si() - reference_k)) * share;
  return Temperature::from_si(std::max(coldest_k, reference_k + (1.0 - warmth) / per_kelvin));
}

double held_share(Duration held, Duration closing) {
  const double tau = closing.si() * relaxing_per_closing;
  return std::max(0.0, 1.0 - per_decade * std::log10(1.0 + held.si() / tau));
}

}  // namespace bellhole::flatten
