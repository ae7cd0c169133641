#include "ask/documents.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "wire/order.hpp"
#include "wire/profile.hpp"

namespace bellhole::ask {
namespace {

constexpr std::size_t hash_digits = 64;

bool is_hash(std::string_view text) {
  return text.size() == hash_digits &&
         text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

/// The bytes of a document that stands in the request itself.
std::string inline_bytes(const Question& question, std::string_view key) {
  return question.request.json().at(std::string(key)).dump();
}

/// The bytes of a document that stands in the request itself, or of a loaded one.
Result<std::string> bytes_of(const Question& question, std::string_view key, std::string_view kind,
                             std::string_view named) {
  if (question.request.json().at(std::string(key)).is_object()) return inline_bytes(question, key);
  BELLHOLE_TRY(bytes, question.context.library.document(kind, std::string(named)));
  return std::string(bytes);
}

Result<wire::Tools> tools_of(const Question& question, std::string_view key,
                             std::string_view named) {
  const wire::Json& value = question.request.json().at(std::string(key));
  if (!value.is_object() && !is_hash(named)) {
    return trouble(Code::unreadable_file, question.request.at(key), std::string(named),
                   "no such file: give a tools file");
  }
  BELLHOLE_TRY(bytes, bytes_of(question, key, "tools", named));
  return wire::read_tools(bytes, key, &question.assumed);
}

/// The text under a key; empty for a document that stands in the request itself.
Result<std::optional<std::string>> named(const Question& question, std::string_view key) {
  const auto found = question.request.json().find(std::string(key));
  if (found != question.request.json().end() && found->is_object()) {
    question.request.know(key);
    return std::optional<std::string>("");
  }
  return question.request.text(key);
}

}  // namespace

Result<procedure::Profile> profile_of(const Question& question, std::string_view otherwise) {
  BELLHOLE_TRY(name, named(question, "procedure"));
  if (!name) {
    question.assumed.push_back(
        fmt::format("procedure: none given; the built-in profile '{}' is used", otherwise));
    return wire::built_in_profile(otherwise);
  }
  if (name->empty()) return wire::read_profile(inline_bytes(question, "procedure"), "procedure");
  if (!is_hash(*name)) return wire::built_in_profile(*name);
  BELLHOLE_TRY(loaded, question.context.library.profile(*name));
  return loaded->profile;
}

Result<std::vector<wire::Prompt>> prompts_of(const Question& question, std::string_view otherwise) {
  BELLHOLE_TRY(name, named(question, "procedure"));
  const std::string_view built_in = !name ? otherwise : std::string_view(*name);
  if (!built_in.empty() && !is_hash(built_in))
    return wire::read_prompts(wire::built_in_profile_bytes(built_in), built_in);
  if (name->empty()) return wire::read_prompts(inline_bytes(question, "procedure"), "procedure");
  BELLHOLE_TRY(loaded, question.context.library.profile(*name));
  return loaded->prompts;
}

Result<std::optional<squeeze::Tool>> tool_of(const Question& question) {
  BELLHOLE_TRY(name, named(question, "tool"));
  if (!name) return std::optional<squeeze::Tool>();
  const auto hash_sign = name->find('#');
  const std::string id =
      hash_sign == std::string::npos ? std::string() : name->substr(hash_sign + 1);
  BELLHOLE_TRY(tools, tools_of(question, "tool", name->substr(0, hash_sign)));
  BELLHOLE_TRY(tool, wire::tool_named(tools, id, question.request.at("tool")));
  return std::optional(tool);
}

Result<std::optional<wire::Tools>> all_tools_of(const Question& question) {
  BELLHOLE_TRY(name, named(question, "tools"));
  if (!name) return std::optional<wire::Tools>();
  BELLHOLE_TRY(tools, tools_of(question, "tools", *name));
  return std::optional(std::move(tools));
}

Result<std::string> plan_bytes_of(const Question& question, std::string_view key) {
  return reply_bytes_of(question, key, "plan");
}

Result<std::string> reply_bytes_of(const Question& question, std::string_view key,
                                   std::string_view of) {
  BELLHOLE_TRY(name, named(question, key));
  if (!name)
    return trouble(Code::missing_value, question.request.at(key), "",
                   fmt::format("give a {} document", of));
  if (!name->empty() && !is_hash(*name))
    return trouble(Code::unreadable_file, question.request.at(key), *name,
                   fmt::format("no such file: give the reply of {} --json", of));
  return bytes_of(question, key, of, *name);
}

Result<plan::Order> order_of(const Question& question, plan::Kind kind) {
  BELLHOLE_TRY(name, named(question, "order"));
  if (!name) return wire::built_in_order(kind);
  if (!name->empty() && !is_hash(*name))
    return trouble(Code::unreadable_file, question.request.at("order"), *name,
                   "no such file: give an order file");
  BELLHOLE_TRY(bytes, bytes_of(question, "order", "order", *name));
  BELLHOLE_TRY(order, wire::read_order(bytes, "order"));
  if (order.kind != kind)
    return trouble(Code::contradiction, question.request.at("order"), order.id,
                   kind == plan::Kind::planned
                       ? "this order is for an emergency: give one for planned work"
                       : "this order is for planned work: give one for an emergency");
  return std::move(order);
}

Result<std::optional<std::vector<squeeze::Stop>>> stops_of(const Question& question) {
  BELLHOLE_TRY(name, named(question, "stops"));
  if (!name) return std::optional<std::vector<squeeze::Stop>>();
  BELLHOLE_TRY(tools, tools_of(question, "stops", *name));
  std::vector<squeeze::Stop> stops = tools.stops;
  for (const auto& tool : tools.tools)
    stops.insert(stops.end(), tool.stops.begin(), tool.stops.end());
  return std::optional(stops);
}

}  // namespace bellhole::ask
