#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command check_command() {
  return {.name = "check",
          .help =
              "what in a network, or in the steps of a plan, contradicts itself, cannot be, or "
              "is not known",
          .network = true,
          .flags = {{"--steps", "steps", Takes::document,
                     "the reply of plan --json: do its steps keep the rules of order and contract?",
                     "plan"},
                    {"--plan", "plan", Takes::whole, "only this plan of --steps, by its rank"}},
          .network_may_miss = true};
}

}  // namespace bellhole::cli
