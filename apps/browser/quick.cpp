#include <array>

#include "apps/browser/door.hpp"
#include "ask/questions.hpp"

namespace bellhole::browser {
namespace {

// web/worker/quick.ts has the same list, and a test holds one against the other.
constexpr std::array entries{
    ask::Entry{"squeeze", ask::squeeze},
    ask::Entry{"pace", ask::pace},
    ask::Entry{"watch", ask::watch},
    ask::Entry{"vent", ask::vent},
    ask::Entry{"gauge", ask::gauge},
    ask::Entry{"job-state", ask::job_state},
    ask::Entry{"job-handover", ask::job_handover},
    ask::Entry{"job-verify", ask::job_verify},
    ask::Entry{"job-plan", ask::job_plan},
    ask::Entry{"job-radio", ask::job_radio},
    ask::Entry{"print-line", ask::print_line},
    ask::Entry{"pipes", ask::pipes},
};

}  // namespace

ask::Reply answer(std::string_view request, ask::Context context) {
  return ask::ask_one_of(entries, request, context);
}

}  // namespace bellhole::browser
