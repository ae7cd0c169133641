// The one way in: a request document, a reply document. Every door calls this and nothing else.
#pragma once

#include <string>
#include <string_view>

#include "ask/library.hpp"
#include "findings/watch.hpp"

namespace bellhole::ask {

/// 0 answered and nothing is halt or undecided; 1 a halt or undecided finding, or infeasible; 2 bad
/// input; 3 a fault of Bellhole.
enum class Outcome : int { answered = 0, attention = 1, bad_input = 2, fault = 3 };

struct Reply {
  std::string document;  ///< JSON; on bad input {"engine", "trouble": {code, where, value, fix}}
  Outcome outcome = Outcome::answered;
};

/// What a question may use besides its request.
struct Context {
  const Library& library;
  Watch& watch;
  Lanes& lanes;
};

/// Answers {"question": "squeeze", …}. Never throws; work that was cancelled answers trouble
/// `cancelled`.
Reply ask(std::string_view request, Context context);

}  // namespace bellhole::ask
