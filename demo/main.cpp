// bellhole-demo-town FILE.gpkg [--clean]: writes the map of Marlhaven, a town that does not exist.
#include <cstdio>
#include <exception>
#include <string_view>

#include "demo/write.hpp"

int main(int argc, char** argv) {
  using namespace bellhole::demo;
  const bool clean = argc == 3 && std::string_view(argv[2]) == "--clean";
  if (argc < 2 || argc > 3 || (argc == 3 && !clean)) {
    std::fputs(
        "Usage: bellhole-demo-town FILE.gpkg [--clean]\nWrites the map of an invented town; "
        "--clean without its faulty records.\n",
        stderr);
    return 2;
  }
  try {
    Town town = build_town();
    if (!clean) spoil(town);
    write_map(town, argv[1]);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 2;
  }
  return 0;
}
