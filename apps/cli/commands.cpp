#include "apps/cli/command.hpp"

namespace bellhole::cli {

std::vector<Command> commands() {
  return {squeeze_command(), pace_command(),     feeds_command(),        flow_command(),
          plan_command(),    check_command(),    time_left_command(),    rehearse_command(),
          watch_command(),   escape_command(),   vent_command(),         pressure_test_command(),
          purge_command(),   join_command(),     repressurise_command(), bypass_command(),
          relight_command(), timeline_command(), print_line_command(),   flatten_command(),
          gauge_command(),   refit_command(),    pipes_command()};
}

}  // namespace bellhole::cli
