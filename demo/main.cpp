// bellhole-demo-town FILE.gpkg [--clean]: writes the map of Marlhaven, a town that does not exist.
#include <cstdio>
#include <string_view>

#include "demo/write.hpp"

int main(int argc, char** argv) {
  using namespace bellhole;
  const bool clean = argc == 3 && std::string_view(argv[2]) == "--clean";
  const bool named = argc >= 2 && argv[1][0] != '-';  // a flag is no file to write
  if (!named || argc > 3 || (argc == 3 && !clean)) {
    std::fputs(
        "Usage: bellhole-demo-town FILE.gpkg [--clean]\n"
        "Writes the map of an invented town; --clean without its faulty records.\n",
        stderr);
    return 2;
  }
  demo::Town town = demo::build_town();
  if (!clean) demo::spoil(town);
  const auto written = demo::write_map(town, argv[1]);
  if (written) return 0;
  std::fprintf(stderr, "%s: %s\n", written.error().where.c_str(), written.error().value.c_str());
  return 2;
}
