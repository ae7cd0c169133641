#include "apps/cli/serve.hpp"

#include <fmt/format.h>
#include <httplib.h>
#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>

#include "apps/cli/refuse.hpp"

namespace bellhole::cli {
namespace {

constexpr const char* loopback = "127.0.0.1";

/// What the page itself asks for, and that nobody may put it into a frame.
constexpr const char* policy =
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; "
    "img-src 'self' blob:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri "
    "'none'; "
    "form-action 'none'; frame-ancestors 'none'";

void prepare(httplib::Server& server) {
  server.set_file_extension_and_mimetype_mapping("wasm", "application/wasm");
  server.set_file_extension_and_mimetype_mapping("webmanifest", "application/manifest+json");
  server.set_default_headers({{"Content-Security-Policy", policy},
                              {"X-Content-Type-Options", "nosniff"},
                              {"Referrer-Policy", "no-referrer"},
                              {"Cache-Control", "no-cache"}});
  server.set_payload_max_length(0);
}

}  // namespace

CLI::App* add_serve(CLI::App& app, Serve& serve) {
  CLI::App* sub = app.add_subcommand("serve", "the phone's page for a browser on this machine");
  sub->add_option("PAGE", serve.page, "folder of the built page")->required();
  sub->add_option("--port", serve.port, "port on this machine; 0 takes a free one");
  sub->add_flag("--json", serve.json, "trouble also as a document");
  return sub;
}

int run_serve(const Serve& serve) {
  if (!std::filesystem::is_regular_file(std::filesystem::path(serve.page) / "index.html"))
    return refuse({Code::unreadable_file, "PAGE", serve.page,
                   "give the folder that holds the page's index.html; ./dev serve builds it"},
                  serve.json);
  httplib::Server server;
  prepare(server);
  server.set_mount_point("/", serve.page);
  const int port = serve.port == 0                             ? server.bind_to_any_port(loopback)
                   : server.bind_to_port(loopback, serve.port) ? serve.port
                                                               : -1;
  if (port < 0)
    return refuse({Code::contradiction, "--port", std::to_string(serve.port),
                   "another program has this port: give another, or 0 for any"},
                  serve.json);
  fmt::print("http://localhost:{}/\n", port);
  std::fflush(stdout);
  return server.listen_after_bind() ? 0 : 3;
}

}  // namespace bellhole::cli
