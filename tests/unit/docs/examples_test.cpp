// The examples of the pages, run: in a block
//
//   ```console
//   $ ./dev run -- squeeze --size "IPS 8" …
//   UNDECIDED: somebody must decide before this is done.
//   …
//   ```
//
// every line that is shown must be printed, in that order; a line "…" stands for lines left out. A
// block that begins with "./dev demo" is held against what the demonstration prints; any other
// command is not run.
#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <regex>
#include <sstream>
#include <string>

#include "tests/unit/docs/project.hpp"

namespace bellhole::docs {
namespace {

namespace fs = std::filesystem;

struct Ran {
  int exit = -1;
  std::string printed;
};

Ran run(const std::string& command) {
  Ran ran;
  std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return ran;
  std::array<char, 4096> part{};
  for (std::size_t n = 0; (n = std::fread(part.data(), 1, part.size(), pipe)) > 0;)
    ran.printed.append(part.data(), n);
  const int status = ::pclose(pipe);
  ran.exit = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return ran;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    while (!line.empty() && line.back() == ' ') line.pop_back();
    lines.push_back(line);
  }
  return lines;
}

struct Example {
  std::string command;
  std::vector<std::string> shown;
};

std::vector<Example> examples_of(const std::string& page) {
  std::vector<Example> examples;
  bool inside = false, continued = false;
  for (const std::string& line : lines_of(page)) {
    if (line.starts_with("```")) {
      inside = line == "```console";
      continue;
    }
    if (!inside) continue;
    if (continued || line.starts_with("$ ")) {
      if (!continued) examples.emplace_back();
      std::string part = continued ? line : line.substr(2);
      continued = part.ends_with('\\');
      if (continued) part.pop_back();
      examples.back().command += part;
    } else if (!examples.empty()) {
      examples.back().shown.push_back(line);
    }
  }
  return examples;
}

/// What of the example is not printed, in the order of the example; empty when all is.
std::string missing(const Example& example, const std::string& printed) {
  const auto lines = lines_of(printed);
  auto from = lines.begin();
  for (const auto& shown : example.shown) {
    if (shown.empty() || shown == "…") continue;
    from = std::find(from, lines.end(), shown);
    if (from == lines.end()) return shown;
    ++from;
  }
  return "";
}

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size()))
    text.replace(at, what.size(), by);
  return text;
}

/// A folder that looks like the top of the project after ./dev demo.
class Examples : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    std::string name = (fs::temp_directory_path() / "bellhole-examples-XXXXXX").string();
    ASSERT_NE(::mkdtemp(name.data()), nullptr);
    folder() = name;
    for (const char* shared : {"profiles", "demo"})
      fs::create_directory_symlink(top() / shared, folder() / shared);
    const auto ran = run("bash '" + (top() / "demo/run").string() + "' '" BELLHOLE_BUILD_DIR "' '" +
                         (folder() / "out/demo").string() + "'");
    ASSERT_EQ(ran.exit, 0) << ran.printed;
    demo() = std::regex_replace(replaced(ran.printed, folder().string() + "/", ""),
                                std::regex("\x1b\\[[0-9]*m"), "");
  }
  static void TearDownTestSuite() { fs::remove_all(folder()); }

  static fs::path& folder() {
    static fs::path path;
    return path;
  }
  static std::string& demo() {
    static std::string printed;
    return printed;
  }
  static std::string printed_by(const Example& example) {
    constexpr std::string_view runs = "./dev run -- ";
    if (example.command == "./dev demo") return demo();
    if (!example.command.starts_with(runs)) return "";
    const auto ran = run("cd '" + folder().string() + "' && '" BELLHOLE_PROGRAM "' " +
                         example.command.substr(runs.size()));
    EXPECT_TRUE(ran.exit == 0 || ran.exit == 1) << example.command << "\n" << ran.printed;
    return ran.printed;
  }
};

TEST_F(Examples, PrintWhatThePagesShow) {
  int held = 0;
  for (const char* page : {"README.md", "docs/handbook/planning.md", "docs/handbook/time.md"}) {
    for (const auto& example : examples_of(read(top() / page))) {
      const std::string printed = printed_by(example);
      if (printed.empty()) continue;
      ++held;
      EXPECT_EQ(missing(example, printed), "")
          << page << " shows this line for\n  " << example.command << "\nwhich prints\n"
          << printed;
    }
  }
  EXPECT_GE(held, 6);
}

TEST(Example, ALineThatIsNotPrintedIsMissing) {
  const auto examples = examples_of("```console\n$ ./dev run -- x \\\n  y\none\n…\nthree\n```\n");
  ASSERT_EQ(examples.size(), 1U);
  EXPECT_EQ(examples[0].command, "./dev run -- x   y");
  EXPECT_EQ(missing(examples[0], "one\ntwo\nthree\n"), "");
  EXPECT_EQ(missing(examples[0], "three\none\n"), "three");
}

}  // namespace
}  // namespace bellhole::docs
