#include "ask/ask.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "ask/questions.hpp"

namespace bellhole::ask {
namespace {

using wire::Json;

Reply refused(const Trouble& trouble) {
  Json reply;
  reply["engine"] = wire::engine_version();
  reply["trouble"] = wire::to_json(trouble);
  return {wire::text_of(reply), trouble.code == Code::bug ? Outcome::fault : Outcome::bad_input};
}

Result<Json> answered(std::span<const Entry> entries, std::string_view request,
                      const Context& context) {
  BELLHOLE_TRY(json, wire::parse_json(request, "request"));
  std::vector<std::string> assumed;
  BELLHOLE_TRY(object, wire::Object::of(json, "", &assumed));
  BELLHOLE_TRY(name, object.need_text("question", "name the question"));
  const auto found = std::ranges::find(entries, std::string_view(name), &Entry::name);
  if (found == entries.end()) {
    std::string list;
    for (const Entry& entry : entries) list += (list.empty() ? "" : ", ") + std::string(entry.name);
    return trouble(Code::unreadable_value, "question", name, "ask one of: " + list);
  }
  return found->answer({object, assumed, context});
}

}  // namespace

Reply ask_one_of(std::span<const Entry> entries, std::string_view request, Context context) {
  const Result<Json> reply = answered(entries, request, context);
  if (!reply) return refused(reply.error());
  const std::string& verdict = reply->at("verdict").get_ref<const std::string&>();
  const bool attention = verdict == "halt" || verdict == "undecided";
  return {wire::text_of(*reply), attention ? Outcome::attention : Outcome::answered};
}

}  // namespace bellhole::ask
