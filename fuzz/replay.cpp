// Feeds a fuzz target with the files of the folders given, as an ordinary test. A folder that is
// not there is empty; no file at all is a failure.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

int main(int count, char** arguments) {
  namespace fs = std::filesystem;
  int fed = 0;
  for (int i = 1; i < count; ++i) {
    if (!fs::is_directory(arguments[i])) continue;
    for (const auto& entry : fs::directory_iterator(arguments[i])) {
      std::ifstream file(entry.path(), std::ios::binary);
      const std::vector<std::uint8_t> input{std::istreambuf_iterator<char>(file),
                                            std::istreambuf_iterator<char>()};
      std::printf("%s\n", entry.path().c_str());
      std::fflush(stdout);
      LLVMFuzzerTestOneInput(input.data(), input.size());
      ++fed;
    }
  }
  std::printf("%d inputs\n", fed);
  return fed > 0 ? 0 : 1;
}
