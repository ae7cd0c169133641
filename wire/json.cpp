#include "wire/json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"

namespace bellhole::wire {
namespace {

/// Depth and bytes are checked on the text, before any node is allocated.
bool deeper_than(std::string_view bytes, std::size_t cap) {
  std::size_t depth = 0;
  bool quoted = false;
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    const char c = bytes[i];
    if (quoted) {
      if (c == '\\')
        ++i;
      else if (c == '"')
        quoted = false;
    } else if (c == '"') {
      quoted = true;
    } else if (c == '[' || c == '{') {
      if (++depth > cap) return true;
    } else if ((c == ']' || c == '}') && depth > 0) {
      --depth;
    }
  }
  return false;
}

/// Remembers where reading stopped; builds nothing itself.
struct Locator : nlohmann::json_sax<Json> {
  std::size_t stopped = 0;
  std::string why;
  bool null() override { return true; }
  bool boolean(bool) override { return true; }
  bool number_integer(number_integer_t) override { return true; }
  bool number_unsigned(number_unsigned_t) override { return true; }
  bool number_float(number_float_t, const string_t&) override { return true; }
  bool string(string_t&) override { return true; }
  bool binary(binary_t&) override { return true; }
  bool start_object(std::size_t) override { return true; }
  bool key(string_t&) override { return true; }
  bool end_object() override { return true; }
  bool start_array(std::size_t) override { return true; }
  bool end_array() override { return true; }
  bool parse_error(std::size_t position, const std::string&,
                   const nlohmann::detail::exception& error) override {
    stopped = position;
    why = error.what();
    return false;
  }
};

std::string shown(const Json& json) {
  std::string text = json.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (text.size() > 80) text = text.substr(0, 77) + "...";
  return text;
}

std::unexpected<Trouble> wrong(const Object& object, std::string_view key, const Json& value,
                               std::string_view wanted) {
  return trouble(Code::unreadable_document, object.at(key), shown(value),
                 fmt::format("give {}", wanted));
}

/// Who settles a finding: whom its action names; where it names nobody, whoever is in charge at the
/// hole does what it says.
std::string_view decides(const Finding& finding) {
  const auto names = [&](std::string_view who) { return finding.action.contains(who); };
  if (names("engineer") || names("qualified person") || names("'confirmed'")) return "engineer";
  return names("gas control") ? "gas_control" : "person_in_charge";
}

template <class Text>
std::vector<Text> once(const std::vector<Text>& all) {
  std::vector<Text> list;
  for (const Text& one : all)
    if (std::ranges::find(list, one) == list.end()) list.push_back(one);
  return list;
}

}  // namespace

Result<Json> parse_json(std::string_view bytes, std::string_view where, Cap cap) {
  if (bytes.size() > cap.bytes) {
    return trouble(Code::too_large, std::string(where), fmt::format("{} bytes", bytes.size()),
                   fmt::format("at most {} bytes are read here", cap.bytes));
  }
  const auto first = bytes.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos ||
      std::string_view("{[\"-0123456789tfn").find(bytes[first]) == std::string_view::npos) {
    return trouble(
        Code::unreadable_document, std::string(where), "no document",
        "the document must be JSON (RFC 8259); a map becomes a network document by `import`");
  }
  if (deeper_than(bytes, cap.depth)) {
    return trouble(Code::too_large, std::string(where), "nested too deeply",
                   fmt::format("at most {} levels of nesting are read", cap.depth));
  }
  Json json = Json::parse(bytes, nullptr, false);
  if (json.is_discarded()) {
    Locator locator;
    Json::sax_parse(bytes, &locator);
    const std::size_t from = locator.stopped > 20 ? locator.stopped - 20 : 0;
    return trouble(Code::unreadable_document, fmt::format("{}, byte {}", where, locator.stopped),
                   std::string(bytes.substr(std::min(from, bytes.size()), 40)),
                   "the document must be JSON (RFC 8259), UTF-8");
  }
  return json;
}

Object::Object(const Json& json, std::string where, std::vector<std::string>* assumed)
    : json_(&json),
      where_(std::move(where)),
      assumed_(assumed),
      asked_(std::make_shared<std::set<std::string, std::less<>>>()) {}

Result<Object> Object::of(const Json& json, std::string where, std::vector<std::string>* assumed) {
  if (!json.is_object()) {
    return trouble(Code::unreadable_document, std::move(where), shown(json),
                   "give an object { … }");
  }
  return Object(json, std::move(where), assumed);
}

const Json* Object::find(std::string_view key) const {
  asked_->insert(std::string(key));
  const auto found = json_->find(std::string(key));
  if (found == json_->end() || found->is_null()) return nullptr;
  return &*found;
}

bool Object::has(std::string_view key) const {
  const auto found = json_->find(std::string(key));
  return found != json_->end() && !found->is_null();
}

std::string Object::at(std::string_view key) const {
  return where_.empty() ? std::string(key) : fmt::format("{}.{}", where_, key);
}

Result<std::optional<std::string>> Object::text(std::string_view key) const {
  const Json* value = find(key);
  if (value == nullptr) return std::optional<std::string>();
  if (!value->is_string()) return wrong(*this, key, *value, "a text");
  return std::optional<std::string>(value->get<std::string>());
}

Result<std::optional<double>> Object::number(std::string_view key) const {
  const Json* value = find(key);
  if (value == nullptr) return std::optional<double>();
  if (!value->is_number()) return wrong(*this, key, *value, "a number");
  const double number = value->get<double>();
  if (!std::isfinite(number)) return wrong(*this, key, *value, "a finite number");
  return std::optional<double>(number);
}

Result<std::optional<std::int64_t>> Object::whole(std::string_view key) const {
  const Json* value = find(key);
  if (value == nullptr) return std::optional<std::int64_t>();
  const bool fits =
      value->is_number_integer() &&
      (!value->is_number_unsigned() || value->get<std::uint64_t>() <= std::uint64_t{INT64_MAX});
  if (!fits) return wrong(*this, key, *value, "a whole number");
  return std::optional<std::int64_t>(value->get<std::int64_t>());
}

Result<std::optional<bool>> Object::flag(std::string_view key) const {
  const Json* value = find(key);
  if (value == nullptr) return std::optional<bool>();
  if (!value->is_boolean()) return wrong(*this, key, *value, "true or false");
  return std::optional<bool>(value->get<bool>());
}

Result<std::optional<Object>> Object::object(std::string_view key) const {
  const Json* value = find(key);
  if (value == nullptr) return std::optional<Object>();
  BELLHOLE_TRY(inner, of(*value, at(key), assumed_));
  return std::optional<Object>(inner);
}

Result<std::vector<Object>> Object::objects(std::string_view key) const {
  std::vector<Object> out;
  const Json* value = find(key);
  if (value == nullptr) return out;
  if (!value->is_array()) return wrong(*this, key, *value, "a list [ … ]");
  for (std::size_t i = 0; i < value->size(); ++i) {
    BELLHOLE_TRY(inner, of((*value)[i], fmt::format("{}[{}]", at(key), i), assumed_));
    out.push_back(inner);
  }
  return out;
}

Result<std::vector<std::string>> Object::texts(std::string_view key) const {
  std::vector<std::string> out;
  const Json* value = find(key);
  if (value == nullptr) return out;
  if (!value->is_array()) return wrong(*this, key, *value, "a list of texts");
  for (const Json& item : *value) {
    if (!item.is_string()) return wrong(*this, key, item, "a list of texts");
    out.push_back(item.get<std::string>());
  }
  return out;
}

template <class Kind>
Result<std::optional<Quantity<Kind>>> Object::quantity(std::string_view key) const {
  const std::string with_unit = std::string(key) + std::string(Kind::suffix);
  if (Kind::suffix.empty()) {
    const Json* value = find(key);
    if (value != nullptr && value->is_number()) {
      BELLHOLE_TRY(number, this->number(key));
      return std::optional(Quantity<Kind>::from_si(*number));
    }
  } else {
    BELLHOLE_TRY(number, this->number(with_unit));
    if (number && has(key)) {
      return trouble(Code::contradiction, at(key), shown(*find(key)),
                     fmt::format("give {} or {}, not both", key, with_unit));
    }
    if (number) {
      know(key);
      return std::optional(Quantity<Kind>::from_si(*number));
    }
  }
  BELLHOLE_TRY(typed, text(key));
  if (!typed) return std::optional<Quantity<Kind>>();
  BELLHOLE_TRY(read, units::parse<Kind>(*typed, at(key)));
  if (!read.assumed.empty() && assumed_ != nullptr) assumed_->push_back(read.assumed);
  return std::optional(read.value);
}

template <class Kind>
Result<std::optional<std::pair<Quantity<Kind>, Quantity<Kind>>>> Object::range(
    std::string_view key) const {
  using Pair = std::pair<Quantity<Kind>, Quantity<Kind>>;
  const std::string with_unit = std::string(key) + std::string(Kind::suffix);
  const Json* pair = find(with_unit);
  if (pair != nullptr && (Kind::suffix.empty() ? pair->is_array() : true)) {
    const bool good =
        pair->is_array() && pair->size() == 2 && (*pair)[0].is_number() && (*pair)[1].is_number();
    if (!good) return wrong(*this, with_unit, *pair, "a pair of numbers [low, high]");
    const Pair value{Quantity<Kind>::from_si((*pair)[0].get<double>()),
                     Quantity<Kind>::from_si((*pair)[1].get<double>())};
    if (!(value.first <= value.second))
      return wrong(*this, with_unit, *pair, "the smaller number first");
    return std::optional<Pair>(value);
  }
  BELLHOLE_TRY(typed, text(key));
  if (!typed) return std::optional<Pair>();
  BELLHOLE_TRY(read, units::parse_range<Kind>(*typed, at(key)));
  if (!read.assumed.empty() && assumed_ != nullptr) assumed_->push_back(read.assumed);
  return std::optional<Pair>(Pair{read.low, read.high});
}

Result<std::string> Object::need_text(std::string_view key, std::string_view fix) const {
  BELLHOLE_TRY(value, text(key));
  if (!value) return trouble(Code::missing_value, at(key), "", std::string(fix));
  return *value;
}

template <class Kind>
Result<Quantity<Kind>> Object::need(std::string_view key, std::string_view fix) const {
  BELLHOLE_TRY(value, quantity<Kind>(key));
  if (!value) return trouble(Code::missing_value, at(key), "", std::string(fix));
  return *value;
}

Result<bool> Object::done() const {
  for (const auto& [key, value] : json_->items()) {
    if (!asked_->contains(key)) {
      return trouble(Code::unreadable_document, at(key), shown(value),
                     "nothing reads this key here: correct or remove it");
    }
  }
  return true;
}

Result<std::size_t> one_of(const std::string& text, std::initializer_list<std::string_view> words,
                           std::string_view where) {
  const auto found = std::ranges::find(words, std::string_view(text));
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  std::string list;
  for (const auto word : words) list += (list.empty() ? "" : ", ") + std::string(word);
  return trouble(Code::unreadable_value, std::string(where), text, "give one of: " + list);
}

Json number_or_null(double number) { return std::isfinite(number) ? Json(number) : Json(nullptr); }

void put(Json& object, std::string_view key, double number) {
  object[std::string(key)] = number_or_null(number);
}

template <class Kind>
void put(Json& object, std::string_view key, Quantity<Kind> value) {
  object[std::string(key) + std::string(Kind::suffix)] = number_or_null(value.si());
}

template <class Kind>
void put(Json& object, std::string_view key, std::optional<Quantity<Kind>> value) {
  object[std::string(key) + std::string(Kind::suffix)] =
      value ? number_or_null(value->si()) : Json(nullptr);
}

Json to_json(const Finding& finding) {
  Json json;
  json["rule"] = finding.rule;
  json["grade"] = to_string(finding.grade);
  json["says"] = finding.says;
  json["quantity"] = finding.quantity;
  json["value_si"] = finding.value_si ? number_or_null(*finding.value_si) : Json(nullptr);
  json["limit_si"] = finding.limit_si ? number_or_null(*finding.limit_si) : Json(nullptr);
  json["unit_si"] = finding.unit_si;
  json["source"] = finding.source;
  json["evidence"] = to_string(finding.evidence);
  json["action"] = finding.action;
  json["decides"] = decides(finding);
  json["about"] = finding.about;
  return json;
}

Json to_json(const Findings& findings) {
  Json list = Json::array();
  for (const Finding& finding : findings) list.push_back(to_json(finding));
  return list;
}

Json to_json(const Trouble& trouble) {
  Json json;
  json["code"] = to_string(trouble.code);
  json["number"] = static_cast<int>(trouble.code);
  json["where"] = trouble.where;
  json["value"] = trouble.value;
  json["fix"] = trouble.fix;
  return json;
}

std::string text_of(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace);
}

void put_answer(Json& reply, const Findings& findings, const std::vector<std::string>& assumed) {
  Findings sorted = findings;
  std::ranges::stable_sort(sorted, {}, &Finding::grade);
  reply["engine"] = engine_version();
  reply["verdict"] = to_string(verdict_of(sorted));
  reply["findings"] = to_json(sorted);
  std::vector<std::string_view> who;
  for (const Finding& finding : sorted)
    if (finding.grade == sorted.front().grade) who.push_back(decides(finding));
  if (who.empty()) who.emplace_back("person_in_charge");
  reply["decides"] = once(who);
  reply["assumed"] = once(assumed);
}

std::string_view engine_version() { return BELLHOLE_ENGINE_VERSION; }

#define BELLHOLE_WIRES(Kind)                                                                \
  template Result<std::optional<Quantity<kinds::Kind>>> Object::quantity<kinds::Kind>(      \
      std::string_view) const;                                                              \
  template Result<std::optional<std::pair<Quantity<kinds::Kind>, Quantity<kinds::Kind>>>>   \
      Object::range<kinds::Kind>(std::string_view) const;                                   \
  template Result<Quantity<kinds::Kind>> Object::need<kinds::Kind>(std::string_view,        \
                                                                   std::string_view) const; \
  template void put<kinds::Kind>(Json&, std::string_view, Quantity<kinds::Kind>);           \
  template void put<kinds::Kind>(Json&, std::string_view, std::optional<Quantity<kinds::Kind>>);

BELLHOLE_WIRES(Fraction)
BELLHOLE_WIRES(Length)
BELLHOLE_WIRES(Area)
BELLHOLE_WIRES(Volume)
BELLHOLE_WIRES(Duration)
BELLHOLE_WIRES(Speed)
BELLHOLE_WIRES(Mass)
BELLHOLE_WIRES(MassFlow)
BELLHOLE_WIRES(Density)
BELLHOLE_WIRES(Viscosity)
BELLHOLE_WIRES(StdVolume)
BELLHOLE_WIRES(StdFlow)
BELLHOLE_WIRES(Force)
BELLHOLE_WIRES(Stress)
BELLHOLE_WIRES(PressureDifference)
BELLHOLE_WIRES(PressureRate)
BELLHOLE_WIRES(TemperatureDifference)
BELLHOLE_WIRES(GaugePressure)
BELLHOLE_WIRES(AbsolutePressure)
BELLHOLE_WIRES(Temperature)

}  // namespace bellhole::wire
