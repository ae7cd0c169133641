#include "findings/finding.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

namespace bellhole {
namespace {

template <class T, std::size_t N>
using Words = std::array<std::pair<T, std::string_view>, N>;

constexpr Words<Grade, 4> grades{{{Grade::halt, "halt"},
                                  {Grade::undecided, "undecided"},
                                  {Grade::warn, "warn"},
                                  {Grade::info, "info"}}};

constexpr Words<Evidence, 7> evidences{{{Evidence::seen, "seen"},
                                        {Evidence::from_memory, "from_memory"},
                                        {Evidence::derived, "derived"},
                                        {Evidence::common_practice, "common_practice"},
                                        {Evidence::company, "company"},
                                        {Evidence::maker, "maker"},
                                        {Evidence::entered, "entered"}}};

template <class T, std::size_t N>
std::string_view word_of(const Words<T, N>& words, T value) {
  return std::ranges::find(words, value, &std::pair<T, std::string_view>::first)->second;
}

template <class T, std::size_t N>
std::optional<T> value_of(const Words<T, N>& words, std::string_view text) {
  const auto found = std::ranges::find(words, text, &std::pair<T, std::string_view>::second);
  if (found == words.end()) return std::nullopt;
  return found->first;
}

}  // namespace

std::string_view to_string(Grade grade) { return word_of(grades, grade); }
std::string_view to_string(Evidence evidence) { return word_of(evidences, evidence); }
std::optional<Evidence> evidence_from(std::string_view text) { return value_of(evidences, text); }
std::optional<Grade> grade_from(std::string_view text) { return value_of(grades, text); }

std::string_view to_string(Verdict verdict) {
  if (verdict == Verdict::nothing_found) return "nothing_found";
  return to_string(static_cast<Grade>(verdict));
}

Verdict verdict_of(const Findings& findings) {
  if (findings.empty()) return Verdict::nothing_found;
  const auto worst = std::ranges::min_element(findings, {}, &Finding::grade);
  return static_cast<Verdict>(worst->grade);
}

void append(Findings& to, Findings from) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

}  // namespace bellhole
