// Every question.
#include <array>

#include "ask/questions.hpp"

namespace bellhole::ask {
namespace {

// One line a question, in the order of the command line's help.
constexpr std::array entries{
    Entry{"squeeze", squeeze_full},
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
    Entry{"job-plan", job_plan},
    Entry{"job-radio", job_radio},
    Entry{"print-line", print_line},
    Entry{"flatten", flatten},
    Entry{"gauge", gauge},
    Entry{"refit", refit},
    Entry{"pipes", pipes},
};

}  // namespace

Reply ask(std::string_view request, Context context) {
  return ask_one_of(entries, request, context);
}

}  // namespace bellhole::ask
