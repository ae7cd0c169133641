// The documents that a request names: a built-in word, the hash of a loaded document, or the
// document itself.
#pragma once

#include <optional>
#include <string>

#include "ask/questions.hpp"
#include "plan/order.hpp"
#include "procedure/profile.hpp"
#include "squeeze/tool.hpp"
#include "wire/profile.hpp"
#include "wire/tool.hpp"

namespace bellhole::ask {

/// The profile under "procedure": "us", "metric", a hash, or a profile document. Where the request
/// names none, `otherwise` is used and the answer says so.
Result<procedure::Profile> profile_of(const Question& question, std::string_view otherwise);

/// The prompts of the profile under "procedure", as profile_of finds it.
Result<std::vector<wire::Prompt>> prompts_of(const Question& question, std::string_view otherwise);

/// The tool under "tool": a hash, "hash#ID", or a tools document with one tool.
Result<std::optional<squeeze::Tool>> tool_of(const Question& question);

/// All tools and stops under "tools": a hash or a tools document.
Result<std::optional<wire::Tools>> all_tools_of(const Question& question);

/// The stops under "stops": a hash or a tools document; those of the document and of its tools.
Result<std::optional<std::vector<squeeze::Stop>>> stops_of(const Question& question);

/// The order of the steps under "order": a hash or an order document; where the request names none,
/// the base order for this kind of work. Errors: contradiction when it is an order for the other
/// kind.
Result<plan::Order> order_of(const Question& question, plan::Kind kind);

/// The bytes of the plan document under `key`: a hash, or the document itself.
Result<std::string> plan_bytes_of(const Question& question, std::string_view key);

/// The bytes of a reply of the question `of` under `key`; replies are loaded by their question.
Result<std::string> reply_bytes_of(const Question& question, std::string_view key,
                                   std::string_view of);

}  // namespace bellhole::ask
