#include "ask/ask.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "ask/questions.hpp"

namespace bellhole::ask {
namespace {

using wire::Json;

struct Entry {
  std::string_view name;
  Answer (*answer)(const Question&);
};

// One line a question, in the order of the command line's help.
constexpr std::array entries{
    Entry{"squeeze", squeeze},
    Entry{"pace", pace},
    Entry{"feeds", feeds},
    Entry{"flow", flow},
    Entry{"plan", plan},
    Entry{"check", check},
    Entry{"time-left", time_left},
    Entry{"rehearse", rehearse},
    Entry{"watch", watch},
    Entry{"escape", escape},
    Entry{"vent", vent},
    Entry{"pressure-test", pressure_test},
    Entry{"purge", purge},
    Entry{"join", join},
    Entry{"repressurise", repressurise},
    Entry{"bypass", bypass},
    Entry{"relight", relight},
    Entry{"timeline", timeline},
    Entry{"job-state", job_state},
    Entry{"job-audit", job_audit},
    Entry{"job-handover", job_handover},
    Entry{"job-verify", job_verify},
    Entry{"print-line", print_line},
    Entry{"flatten", flatten},
    Entry{"gauge", gauge},
    Entry{"refit", refit},
};

Reply refused(const Trouble& trouble) {
  Json reply;
  reply["engine"] = wire::engine_version();
  reply["trouble"] = wire::to_json(trouble);
  return {wire::text_of(reply), trouble.code == Code::bug ? Outcome::fault : Outcome::bad_input};
}

Result<Json> answered(std::string_view request, const Context& context) {
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

Reply ask(std::string_view request, Context context) {
  const Result<Json> reply = answered(request, context);
  if (!reply) return refused(reply.error());
  const std::string& verdict = reply->at("verdict").get_ref<const std::string&>();
  const bool attention = verdict == "halt" || verdict == "undecided";
  return {wire::text_of(*reply), attention ? Outcome::attention : Outcome::answered};
}

}  // namespace bellhole::ask
