#include "procedure/profile.hpp"

#include <algorithm>

namespace bellhole::procedure {
namespace {

/// Whether `a` governs where both apply.
bool outranks(const Row& a, const Row& b) {
  if (a.layer != b.layer) return a.layer > b.layer;
  const int more = specificity(a.when) - specificity(b.when);
  if (more != 0) return more > 0;
  return contains(b.when, a.when) && !contains(a.when, b.when);
}

}  // namespace

bool tighter(const Rule& rule, double a, double b) {
  switch (rule.sense) {
    case Sense::most:
      return a < b;
    case Sense::least:
      return a > b;
    case Sense::set:
      break;
  }
  return false;
}

Ruling Profile::ruling(std::string_view rule, const Case& in) const {
  Ruling ruling;
  ruling.rule = find_rule(rule);
  std::vector<std::pair<const Row*, std::vector<std::string_view>>> maybe;
  for (const Row& row : rows_) {
    if (row.rule != ruling.rule) continue;
    std::vector<std::string_view> missing;
    const Applies answer = applies(row.when, in, &missing);
    if (answer == Applies::unknown) maybe.emplace_back(&row, std::move(missing));
    if (answer == Applies::yes && (ruling.row == nullptr || outranks(row, *ruling.row)))
      ruling.row = &row;
  }
  for (const auto& [row, missing] : maybe) {
    if (ruling.row != nullptr && !outranks(*row, *ruling.row)) continue;
    ruling.doubtful.push_back(row);
    for (const auto name : missing) {
      if (std::ranges::find(ruling.missing, name) == ruling.missing.end())
        ruling.missing.push_back(name);
    }
  }
  return ruling;
}

const Row* Ruling::used() const {
  const Row* best = row != nullptr && std::holds_alternative<double>(row->value) ? row : nullptr;
  for (const Row* other : doubtful) {
    if (!std::holds_alternative<double>(other->value)) continue;
    if (best == nullptr ||
        tighter(*rule, std::get<double>(other->value), std::get<double>(best->value)))
      best = other;
  }
  return best;
}

std::optional<double> Ruling::number() const {
  const Row* best = used();
  if (best == nullptr) return std::nullopt;
  return std::get<double>(best->value);
}

std::optional<std::string> Ruling::word() const {
  if (row == nullptr || !std::holds_alternative<std::string>(row->value)) return std::nullopt;
  return std::get<std::string>(row->value);
}

bool Ruling::unconfirmed_law() const {
  const auto open = [](const Row* r) {
    return r != nullptr && r->rule->law && r->evidence == Evidence::from_memory && !r->confirmed &&
           !std::holds_alternative<std::monostate>(r->value);
  };
  return open(row) || std::ranges::any_of(doubtful, open);
}

}  // namespace bellhole::procedure
