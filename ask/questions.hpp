// The list of questions. One file each: <question>.cpp reads its request, calls the engine, writes
// the reply.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <span>

#include "ask/ask.hpp"
#include "wire/json.hpp"

namespace bellhole::ask {

/// What a question gets: its request (the key "question" is already known) and the assumptions list
/// that readers add to. It answers the reply document, complete with verdict and findings
/// (wire::put_answer).
struct Question {
  const wire::Object& request;
  std::vector<std::string>& assumed;
  const Context& context;
};
using Answer = Result<wire::Json>;

/// A question by its name. A door that has no room for all of them names its own (ask_one_of).
struct Entry {
  std::string_view name;
  Answer (*answer)(const Question&);
};

/// What ask() does, with these questions only.
Reply ask_one_of(std::span<const Entry> entries, std::string_view request, Context context);

Answer squeeze(const Question& question);       ///< by the closed form; refuses `full`
Answer squeeze_full(const Question& question);  ///< the same, and `full` where it is asked for
Answer pace(const Question& question);
Answer feeds(const Question& question);
Answer flow(const Question& question);
Answer plan(const Question& question);
Answer check(const Question& question);
Answer time_left(const Question& question);
Answer rehearse(const Question& question);
Answer bypass(const Question& question);
Answer watch(const Question& question);
Answer escape(const Question& question);
Answer vent(const Question& question);
Answer pressure_test(const Question& question);
Answer purge(const Question& question);
Answer join(const Question& question);
Answer repressurise(const Question& question);
Answer relight(const Question& question);
Answer timeline(const Question& question);
Answer job_state(const Question& question);
Answer job_audit(const Question& question);
Answer job_handover(const Question& question);
Answer job_verify(const Question& question);
Answer flatten(const Question& question);
Answer gauge(const Question& question);
Answer refit(const Question& question);
Answer job_plan(const Question& question);
Answer job_radio(const Question& question);
Answer print_line(const Question& question);
Answer pipes(const Question& question);

}  // namespace bellhole::ask
