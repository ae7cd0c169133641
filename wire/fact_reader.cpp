#include "wire/fact_reader.hpp"

#include <nlohmann/json.hpp>

namespace bellhole::wire {

std::string FactReader::text(std::string_view key) { return kept(object_.text(key)).value_or(""); }

std::string FactReader::need(std::string_view key) {
  std::string given = kept(object_.need_text(key, "this fact is nothing without it"));
  if (given.empty()) wrong(Code::missing_value, key, "", "this fact is nothing without it");
  return given;
}

std::vector<std::string> FactReader::texts(std::string_view key) {
  return kept(object_.texts(key));
}

std::optional<double> FactReader::number(std::string_view key) { return kept(object_.number(key)); }

std::optional<procedure::Days> FactReader::date(std::string_view key) {
  const auto given = kept(object_.text(key));
  if (!given) return {};
  return kept(procedure::parse_date(*given, object_.at(key)));
}

std::optional<job::Moment> FactReader::moment(std::string_view key) {
  const auto given = kept(object_.text(key));
  if (!given) return {};
  return kept(job::read_moment(*given, object_.at(key)));
}

job::Hash FactReader::hash(std::string_view key, bool needed) {
  const std::string given = needed ? need(key) : text(key);
  const bool good =
      given.empty() ||
      (given.size() == 64 && given.find_first_not_of("0123456789abcdef") == std::string::npos);
  if (!good) wrong(Code::unreadable_value, key, given, "give a SHA-256 as 64 small hex digits");
  return given;
}

std::vector<job::Hash> FactReader::hashes(std::string_view key) {
  std::vector<job::Hash> all = texts(key);
  for (const job::Hash& one : all)
    if (one.size() != 64 || one.find_first_not_of("0123456789abcdef") != std::string::npos)
      wrong(Code::unreadable_value, key, one, "give SHA-256 hashes as 64 small hex digits");
  return all;
}

job::Answer FactReader::answer(std::string_view key) {
  return need_word<job::Answer>(key, {"yes", "no", "not_needed", "unknown"});
}

void FactReader::wrong(Code code, std::string_view key, std::string value, std::string fix) {
  if (!first_) first_ = Trouble{code, object_.at(key), std::move(value), std::move(fix)};
}

Result<job::Fact> FactReader::done(job::AnyFact fact) const {
  if (first_) return std::unexpected(*first_);
  if (const auto read = object_.done(); !read) return std::unexpected(read.error());
  return job::Fact{std::move(fact)};
}

}  // namespace bellhole::wire
