// `bellhole serve`: hands the built page of the phone to a browser on this machine. No account, no
// other machine, no file but those of the page; nothing is written.
#pragma once

#include <cstdint>
#include <string>

namespace CLI {
class App;
}

namespace bellhole::cli {

struct Serve {
  std::string page;           ///< folder of the built page
  std::uint16_t port = 8642;  ///< 0: any that is free
  bool json = false;
};

/// Adds the command; answers it.
CLI::App* add_serve(CLI::App& app, Serve& serve);

/// Serves until it is ended; prints the address once it answers. Answers the exit code.
int run_serve(const Serve& serve);

}  // namespace bellhole::cli
