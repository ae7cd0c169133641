#include "sheets/reply.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

namespace bellhole::sheets {
namespace {

const wire::Json nothing;

std::string shown(const wire::Json& json) {
  return json.dump(-1, ' ', false, wire::Json::error_handler_t::replace).substr(0, 80);
}

bool is_finite(const wire::Json& json) {
  return json.is_number() && std::isfinite(json.get<double>());
}

}  // namespace

void Faults::note(std::string where, std::string value, std::string fix, Code code) {
  if (!first_) first_ = Trouble{code, std::move(where), std::move(value), std::move(fix)};
}

Reply::Reply(const wire::Json& json, std::string where, Faults& faults)
    : json_(&json), where_(std::move(where)), faults_(&faults) {}

Reply::operator bool() const { return json_->is_object(); }

std::string Reply::path(std::string_view key) const {
  return where_.empty() ? std::string(key) : where_ + "." + std::string(key);
}

const wire::Json* Reply::find(std::string_view key) const {
  if (!json_->is_object()) return nullptr;
  const auto at = json_->find(key);
  return at == json_->end() || at->is_null() ? nullptr : &*at;
}

void Reply::wrong(std::string_view key, std::string_view wanted) const {
  const wire::Json* found = find(key);
  faults_->note(path(key), found == nullptr ? "missing" : shown(*found),
                "give a reply of this version of Bellhole: here it has " + std::string(wanted));
}

bool Reply::has(std::string_view key) const { return find(key) != nullptr; }

std::string Reply::text(std::string_view key) const {
  const wire::Json* found = find(key);
  if (found == nullptr) return {};
  if (!found->is_string()) {
    wrong(key, "text");
    return {};
  }
  return found->get<std::string>();
}

std::optional<double> Reply::number(std::string_view key) const {
  const wire::Json* found = find(key);
  if (found == nullptr) return std::nullopt;
  if (!is_finite(*found)) {
    wrong(key, "a number");
    return std::nullopt;
  }
  return found->get<double>();
}

std::optional<bool> Reply::flag(std::string_view key) const {
  const wire::Json* found = find(key);
  if (found == nullptr) return std::nullopt;
  if (!found->is_boolean()) {
    wrong(key, "true or false");
    return std::nullopt;
  }
  return found->get<bool>();
}

Reply Reply::at(std::string_view key) const {
  const wire::Json* found = find(key);
  if (found != nullptr && !found->is_object()) {
    wrong(key, "an object");
    found = nullptr;
  }
  return {found == nullptr ? nothing : *found, path(key), *faults_};
}

std::vector<Reply> Reply::list(std::string_view key) const {
  std::vector<Reply> all;
  const wire::Json* found = find(key);
  if (found == nullptr) return all;
  if (!found->is_array()) {
    wrong(key, "a list");
    return all;
  }
  for (std::size_t i = 0; i < found->size(); ++i) {
    const wire::Json& item = (*found)[i];
    const std::string where = path(key) + "[" + std::to_string(i) + "]";
    if (item.is_object()) {
      all.emplace_back(item, where, *faults_);
    } else {
      faults_->note(where, shown(item),
                    "give a reply of this version of Bellhole: here it has objects");
    }
  }
  return all;
}

std::vector<std::string> Reply::texts(std::string_view key) const {
  std::vector<std::string> all;
  const wire::Json* found = find(key);
  if (found == nullptr) return all;
  if (!found->is_array()) {
    wrong(key, "a list of texts");
    return all;
  }
  for (const wire::Json& item : *found) {
    if (item.is_string())
      all.push_back(item.get<std::string>());
    else
      wrong(key, "a list of texts");
  }
  return all;
}

std::vector<double> Reply::numbers(std::string_view key) const {
  std::vector<double> all;
  const wire::Json* found = find(key);
  if (found == nullptr) return all;
  if (!found->is_array()) {
    wrong(key, "a list of numbers");
    return all;
  }
  for (const wire::Json& item : *found) {
    if (is_finite(item))
      all.push_back(item.get<double>());
    else
      wrong(key, "a list of numbers");
  }
  return all;
}

std::vector<std::pair<double, double>> Reply::pairs(std::string_view key) const {
  std::vector<std::pair<double, double>> all;
  const wire::Json* found = find(key);
  if (found == nullptr) return all;
  if (!found->is_array()) {
    wrong(key, "a list of pairs of numbers");
    return all;
  }
  for (const wire::Json& item : *found) {
    const bool pair =
        item.is_array() && item.size() == 2 && is_finite(item[0]) && is_finite(item[1]);
    if (pair)
      all.emplace_back(item[0].get<double>(), item[1].get<double>());
    else
      wrong(key, "a list of pairs of numbers");
  }
  return all;
}

std::string Reply::need_text(std::string_view key) const {
  if (!has(key)) wrong(key, "text");
  return text(key);
}

Reply Reply::need(std::string_view key) const {
  if (!has(key)) wrong(key, "an object");
  return at(key);
}

std::vector<Reply> Reply::need_list(std::string_view key) const {
  if (!has(key)) wrong(key, "a list");
  return list(key);
}

}  // namespace bellhole::sheets
