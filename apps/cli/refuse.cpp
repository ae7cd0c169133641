#include "apps/cli/refuse.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "sheets/terminal/terminal.hpp"
#include "wire/json.hpp"

namespace bellhole::cli {

void print_refusal(const Trouble& trouble) {
  wire::Json reply;
  reply["engine"] = wire::engine_version();
  reply["trouble"] = wire::to_json(trouble);
  fmt::print("{}\n", wire::text_of(reply));
}

int refuse(const Trouble& trouble, bool json) {
  if (json) print_refusal(trouble);
  fmt::print(stderr, "{}\n", sheets::refusal_text(wire::to_json(trouble)));
  return trouble.code == Code::bug ? 3 : 2;
}

}  // namespace bellhole::cli
