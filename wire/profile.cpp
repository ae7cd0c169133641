#include "wire/profile.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "pipe/materials.hpp"
#include "pipe/sizes.hpp"
#include "procedure/date.hpp"
#include "units/parse.hpp"
#include "wire/built_in.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {
namespace {

using procedure::Listed;
using procedure::Ranged;

constexpr int version = 1;
constexpr std::string_view document = "bellhole.profile";

template <class Read>
Result<procedure::Range> read_range(const Object& object, const Read& read) {
  procedure::Range range;
  const std::array ends{
      std::pair("from", &procedure::Range::from), std::pair("above", &procedure::Range::above),
      std::pair("up_to", &procedure::Range::up_to), std::pair("below", &procedure::Range::below)};
  for (const auto& [key, member] : ends) {
    BELLHOLE_TRY(text, object.text(key));
    if (!text) continue;
    BELLHOLE_TRY(value, read(*text, std::string_view(key), object.at(key)));
    range.*member = value;
  }
  const Result<bool> done = object.done();
  if (!done) return std::unexpected(done.error());
  if (!range.named()) {
    return trouble(Code::missing_value, object.where(), "",
                   "give one or two of from, above, up_to, below");
  }
  return range;
}

Result<double> length_or_size(const std::string& text, std::string_view, const std::string& where) {
  if (const auto length = units::parse<kinds::Length>(text, where)) return length->value.si();
  BELLHOLE_TRY(size, pipe::read_size(text, where));
  return size.od.si();
}

Result<double> length(const std::string& text, std::string_view, const std::string& where) {
  BELLHOLE_TRY(read, units::parse<kinds::Length>(text, where));
  return read.value.si();
}

Result<double> temperature(const std::string& text, std::string_view, const std::string& where) {
  BELLHOLE_TRY(read, units::parse<kinds::Temperature>(text, where));
  return read.value.si();
}

/// "up_to 2015" and "above 2015" mean its last day; "from 2015" and "below 2015" its first.
Result<double> day(const std::string& text, std::string_view end, const std::string& where) {
  BELLHOLE_TRY(days, procedure::parse_date(text, where));
  return static_cast<double>(end == "up_to" || end == "above" ? days.last : days.first);
}

/// "size" is a list of names, or a range by their diameters.
Result<bool> read_size_condition(const Object& when, procedure::When& out) {
  const auto found = when.json().find("size");
  if (found == when.json().end()) return true;
  if (found->is_object()) {
    BELLHOLE_TRY(object, when.object("size"));
    BELLHOLE_TRY(range, read_range(*object, length_or_size));
    out[Ranged::od] = range;
    return true;
  }
  BELLHOLE_TRY(names, when.texts("size"));
  for (const std::string& name : names) {
    BELLHOLE_TRY(size, pipe::read_size(name, when.at("size")));
    out[Listed::size].push_back(size.name);
    procedure::Range& range = out[Ranged::od];
    range.from = std::min(range.from.value_or(size.od.si()), size.od.si());
    range.up_to = std::max(range.up_to.value_or(size.od.si()), size.od.si());
  }
  return true;
}

Result<bool> read_materials(const Object& when, procedure::When& out) {
  BELLHOLE_TRY(names, when.texts("material"));
  for (const std::string& name : names) {
    BELLHOLE_TRY(material, pipe::read_material(name, when.at("material")));
    out[Listed::material].emplace_back(material->name);
  }
  return true;
}

Result<procedure::When> read_when(const Object& row) {
  procedure::When out;
  BELLHOLE_TRY(when, row.object("when"));
  if (!when) return out;
  const Result<bool> size = read_size_condition(*when, out);
  if (!size) return std::unexpected(size.error());
  const Result<bool> material = read_materials(*when, out);
  if (!material) return std::unexpected(material.error());
  for (const Listed key : {Listed::tool, Listed::tier, Listed::work, Listed::surface, Listed::step,
                           Listed::authority}) {
    BELLHOLE_TRY(words, when->texts(procedure::listed_names[static_cast<std::size_t>(key)]));
    out[key] = words;
  }
  BELLHOLE_TRY(warmth, when->object("temperature"));
  if (warmth) {
    BELLHOLE_TRY(range, read_range(*warmth, temperature));
    out[Ranged::temperature] = range;
  }
  BELLHOLE_TRY(made, when->object("made"));
  if (made) {
    BELLHOLE_TRY(range, read_range(*made, day));
    out[Ranged::made] = range;
  }
  for (const Ranged key : {Ranged::depth, Ranged::wall}) {
    BELLHOLE_TRY(lengths, when->object(procedure::ranged_names[static_cast<std::size_t>(key)]));
    if (!lengths) continue;
    BELLHOLE_TRY(range, read_range(*lengths, length));
    out[key] = range;
  }
  const Result<bool> done = when->done();
  if (!done) return std::unexpected(done.error());
  return out;
}

Result<procedure::Value> read_value(const Object& object) {
  const auto found = object.json().find("value");
  object.know("value");
  if (found == object.json().end() || found->is_null()) return procedure::Value();
  if (found->is_number()) return procedure::Value(found->get<double>());
  if (found->is_string()) return procedure::Value(found->get<std::string>());
  if (found->is_boolean()) return procedure::Value(found->get<bool>());
  return trouble(Code::unreadable_document, object.at("value"), found->dump(),
                 "give a number, a text, true, false or null");
}

Result<Evidence> read_evidence(const Object& object) {
  BELLHOLE_TRY(text, object.need_text("evidence",
                                      "say how the value is known: seen, from_memory, derived, "
                                      "common_practice, company, maker"));
  const auto evidence = evidence_from(text);
  if (!evidence)
    return trouble(Code::unreadable_value, object.at("evidence"), text,
                   "give seen, from_memory, derived, common_practice, company or maker");
  return *evidence;
}

Result<bool> read_reference(const Object& row, procedure::RowDraft& draft) {
  BELLHOLE_TRY(object, row.object("reference"));
  if (!object) return true;
  procedure::Reference reference;
  BELLHOLE_TRY(value, read_value(*object));
  BELLHOLE_TRY(unit, object->text("unit"));
  BELLHOLE_TRY(source, object->need_text("source", "name where the value is published"));
  BELLHOLE_TRY(evidence, read_evidence(*object));
  reference.value = value;
  reference.source = source;
  reference.evidence = evidence;
  draft.reference = reference;
  draft.reference_unit = unit.value_or("");
  return object->done();
}

Result<bool> read_confirmed(const Object& row, procedure::RowDraft& draft) {
  BELLHOLE_TRY(object, row.object("confirmed"));
  if (!object) return true;
  BELLHOLE_TRY(text, object->need_text("text", "quote the law or say where it stands"));
  BELLHOLE_TRY(date, object->need_text("date", "give the day on which it was read"));
  BELLHOLE_TRY(by, object->need_text("by", "name who read it"));
  draft.confirmed = procedure::Confirmed{text, date, by};
  return object->done();
}

Result<procedure::RowDraft> read_row(const Object& row) {
  procedure::RowDraft draft;
  BELLHOLE_TRY(rule, row.need_text("rule", "name the rule"));
  draft.rule = rule;
  BELLHOLE_TRY(value, read_value(row));
  draft.value = value;
  BELLHOLE_TRY(unit, row.text("unit"));
  draft.unit = unit.value_or("");
  BELLHOLE_TRY(when, read_when(row));
  draft.when = when;
  BELLHOLE_TRY(grade, row.text("grade"));
  if (grade) {
    const auto known = grade_from(*grade);
    if (!known)
      return trouble(Code::unreadable_value, row.at("grade"), *grade,
                     "give halt, undecided, warn or info");
    draft.grade = *known;
  }
  BELLHOLE_TRY(source, row.text("source"));
  draft.source = source.value_or("");
  if (!std::holds_alternative<std::monostate>(draft.value) || row.has("evidence")) {
    BELLHOLE_TRY(evidence, read_evidence(row));
    draft.evidence = evidence;
  }
  BELLHOLE_TRY(approved, row.text("approved_by"));
  draft.approved_by = approved.value_or("");
  BELLHOLE_TRY(note, row.text("note"));
  draft.note = note.value_or("");
  for (const auto& read : {read_reference(row, draft), read_confirmed(row, draft), row.done()}) {
    if (!read) return std::unexpected(read.error());
  }
  return draft;
}

/// Names profile and row before the path inside it.
std::unexpected<Trouble> in_row(Trouble trouble, const std::string& id, std::size_t index,
                                const Json& row) {
  const auto rule = row.is_object() && row.contains("rule") && row["rule"].is_string()
                        ? row["rule"].get<std::string>()
                        : std::string("?");
  trouble.where = fmt::format("profile {}, row {} ({}): {}", id, index + 1, rule, trouble.where);
  return std::unexpected(std::move(trouble));
}

Result<std::vector<Prompt>> prompts_in(const Object& object) {
  BELLHOLE_TRY(items, object.objects("prompts"));
  std::vector<Prompt> prompts;
  for (const Object& item : items) {
    BELLHOLE_TRY(says, item.need_text("says", "give one line that a person can tick"));
    BELLHOLE_TRY(source, item.need_text("source", "say where it comes from"));
    BELLHOLE_TRY(evidence, read_evidence(item));
    const Result<bool> done = item.done();
    if (!done) return std::unexpected(done.error());
    prompts.push_back({says, source, evidence});
  }
  return prompts;
}

}  // namespace

Result<std::vector<Prompt>> read_prompts(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(json, parse_json(bytes, name));
  BELLHOLE_TRY(object, Object::of(json, std::string(name), nullptr));
  BELLHOLE_TRY(extends, object.text("extends"));
  if (object.has("prompts") || !extends) return prompts_in(object);
  const std::string_view base = built_in_profile_bytes(*extends);
  if (base.empty()) return std::vector<Prompt>();  // read_profile says that there is none
  return read_prompts(base, *extends);
}

Json prompts_json(const std::vector<Prompt>& prompts) {
  Json list = Json::array();
  for (const Prompt& prompt : prompts)
    list.push_back({{"says", prompt.says},
                    {"source", prompt.source},
                    {"evidence", to_string(prompt.evidence)}});
  return list;
}

Result<procedure::Profile> read_profile(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(json, parse_json(bytes, name));
  BELLHOLE_TRY(object, Object::of(json, std::string(name), nullptr));
  BELLHOLE_TRY(kind, object.need_text(
                         "document", fmt::format("a profile says \"document\": \"{}\"", document)));
  BELLHOLE_TRY(number, object.whole("version"));
  if (kind != document || number != version) {
    return trouble(Code::unreadable_document, std::string(name), kind,
                   fmt::format("give a {} of version {}", document, version));
  }
  BELLHOLE_TRY(id, object.need_text("id", "give the profile a short name"));
  BELLHOLE_TRY(title, object.text("title"));
  BELLHOLE_TRY(extends, object.text("extends"));
  BELLHOLE_TRY(rows, object.objects("rows"));
  BELLHOLE_TRY(prompts, prompts_in(object));  // read by read_prompts; here for their troubles
  static_cast<void>(prompts);
  const Result<bool> done = object.done();
  if (!done) return std::unexpected(done.error());
  procedure::ProfileDraft draft{id, title.value_or(id), {}};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    auto row = read_row(rows[i]);
    if (!row) return in_row(row.error(), id, i, rows[i].json());
    draft.rows.push_back(std::move(*row));
  }
  if (!extends) return procedure::compose(std::move(draft), nullptr);
  BELLHOLE_TRY(base, built_in_profile(*extends));
  return procedure::compose(std::move(draft), &base);
}

std::string_view built_in_profile_bytes(std::string_view id) {
  if (id == "us") return built_in::us_profile;
  if (id == "metric") return built_in::metric_profile;
  return {};
}

Result<procedure::Profile> built_in_profile(std::string_view id) {
  const std::string_view bytes = built_in_profile_bytes(id);
  if (bytes.empty()) {
    return trouble(Code::unknown_profile, "procedure", std::string(id),
                   "give us, metric or the file of a company's profile");
  }
  return read_profile(bytes, fmt::format("profiles/{}.json", id));
}

}  // namespace bellhole::wire
