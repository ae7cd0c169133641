// Loading a profile: what may stand in it, and what it may change in the one that it extends.
#include <fmt/format.h>

#include <algorithm>

#include "procedure/profile.hpp"

namespace bellhole::procedure {
namespace {

bool valued(const Value& value) { return !std::holds_alternative<std::monostate>(value); }

/// Where a row stands, for the person who mends the file: by its number among all rows.
std::string numbered(const std::string& profile, std::size_t index, const RowDraft& row) {
  return fmt::format("profile {}, row {} ({})", profile, index + 1, row.rule);
}

/// What an answer calls a row that it leans on: by its rule, and by a number only among the rows of
/// that rule, so that a row more elsewhere changes no name.
std::string named(const std::string& profile, std::size_t index,
                  const std::vector<std::string>& rules) {
  const auto here = rules.begin() + static_cast<std::ptrdiff_t>(index);
  if (std::ranges::count(rules, *here) == 1) return fmt::format("profile {}, {}", profile, *here);
  return fmt::format("profile {}, {}, row {} of this rule", profile, *here,
                     std::count(rules.begin(), here, *here) + 1);
}

Result<Row> row_of(RowDraft draft, const std::string& place, int layer) {
  const Rule* rule = find_rule(draft.rule);
  if (rule == nullptr) {
    return trouble(Code::unknown_rule, place, draft.rule,
                   fmt::format("no such rule; nearest are {}", nearest_rules(draft.rule)));
  }
  BELLHOLE_TRY(value, to_si(*rule, draft.value, draft.unit, place + ", value"));
  if (draft.source.empty() && valued(value)) {
    return trouble(Code::missing_value, place + ", source", "", "say where the value comes from");
  }
  if (draft.confirmed && (draft.confirmed->text.empty() || draft.confirmed->date.empty() ||
                          draft.confirmed->by.empty())) {
    return trouble(Code::missing_value, place + ", confirmed", "", "give text, date and by");
  }
  if (draft.reference) {
    BELLHOLE_TRY(shown,
                 to_si(*rule, draft.reference->value, draft.reference_unit, place + ", reference"));
    draft.reference->value = shown;
  }
  return Row{.rule = rule,
             .value = value,
             .when = std::move(draft.when),
             .grade = draft.grade,
             .source = std::move(draft.source),
             .evidence = draft.evidence,
             .approved_by = std::move(draft.approved_by),
             .confirmed = std::move(draft.confirmed),
             .reference = std::move(draft.reference),
             .note = std::move(draft.note),
             .layer = layer};
}

bool narrower(const When& a, const When& b) { return contains(b, a) && !contains(a, b); }

Result<bool> no_ties(const std::vector<Row>& rows) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const Row& a = rows[i];
      const Row& b = rows[j];
      if (a.rule != b.rule || specificity(a.when) != specificity(b.when)) continue;
      if (!overlap(a.when, b.when) || narrower(a.when, b.when) || narrower(b.when, a.when))
        continue;
      return trouble(
          Code::ambiguous_rows, a.place, std::string(a.rule->id),
          fmt::format("it is as specific as {} and both can apply: drop one, or narrow its 'when'",
                      b.place));
    }
  }
  return true;
}

/// Whether a row's value, or the grade of breaking it, asks less than another's.
bool looser(const Row& row, const Row& base) {
  if (row.grade > base.grade && row.rule->sense != Sense::set) return true;
  if (const auto* number = std::get_if<double>(&row.value)) {
    return std::holds_alternative<double>(base.value) &&
           tighter(*row.rule, std::get<double>(base.value), *number);
  }
  return row.value != base.value;
}

/// Whether another base row stands between `row` and `base`: more specific, and holding wherever
/// `row` does.
bool shadowed(const Row& base, const Row& row, const std::vector<Row>& all) {
  return std::ranges::any_of(all, [&](const Row& other) {
    return other.rule == base.rule && contains(other.when, row.when) &&
           (other.layer > base.layer ||
            (other.layer == base.layer && (specificity(other.when) > specificity(base.when) ||
                                           narrower(other.when, base.when))));
  });
}

Result<bool> may_stand_over(Row& row, const std::vector<Row>& base_rows) {
  for (const Row& base : base_rows) {
    if (base.rule != row.rule || !valued(base.value) || !overlap(base.when, row.when)) continue;
    if (shadowed(base, row, base_rows)) continue;
    if (!valued(row.value)) {
      return trouble(
          row.rule->law ? Code::not_overridable : Code::contradiction, row.place, "no value",
          fmt::format("{} sets this limit: give a value, or leave the row out", base.place));
    }
    if (!looser(row, base)) continue;
    if (row.rule->law) {
      return trouble(
          Code::not_overridable, row.place, std::string(row.rule->id),
          fmt::format("this is law ({}): a company may tighten it, never loosen it", base.source));
    }
    if (row.approved_by.empty()) {
      return trouble(Code::missing_value, row.place + ", approved_by", "",
                     fmt::format("the row is looser than {}: name who approved it", base.place));
    }
    row.loosens = true;
  }
  return true;
}

}  // namespace

Result<Profile> compose(ProfileDraft draft, const Profile* base) {
  int layer = 0;
  if (base != nullptr) {
    for (const Row& row : base->rows()) layer = std::max(layer, row.layer + 1);
  }
  std::vector<std::string> rules;
  for (const RowDraft& row : draft.rows) rules.push_back(row.rule);
  std::vector<Row> rows;
  for (std::size_t i = 0; i < draft.rows.size(); ++i) {
    const std::string place = numbered(draft.id, i, draft.rows[i]);
    BELLHOLE_TRY(row, row_of(std::move(draft.rows[i]), place, layer));
    row.place = named(draft.id, i, rules);
    if (base != nullptr) {
      const Result<bool> allowed = may_stand_over(row, base->rows());
      if (!allowed) return std::unexpected(allowed.error());
    }
    rows.push_back(std::move(row));
  }
  const Result<bool> ordered = no_ties(rows);
  if (!ordered) return std::unexpected(ordered.error());
  Profile profile;
  profile.id_ = std::move(draft.id);
  profile.title_ = std::move(draft.title);
  if (base != nullptr) profile.rows_ = base->rows();
  profile.rows_.insert(profile.rows_.end(), std::make_move_iterator(rows.begin()),
                       std::make_move_iterator(rows.end()));
  return profile;
}

}  // namespace bellhole::procedure
