// The contract corpus, natively. See tests/contract/README.md.
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "ask/ask.hpp"
#include "tests/contract/alike.hpp"

namespace bellhole::contract {
namespace {

namespace fs = std::filesystem;
using Document =
    nlohmann::ordered_json;  // a case is written back in the order in which it was typed

const fs::path top = BELLHOLE_SOURCE_DIR;

std::string read(const fs::path& path) {
  std::stringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

std::vector<fs::path> cases() {
  std::vector<fs::path> found;
  for (const auto& question : fs::directory_iterator(top / "tests/contract")) {
    if (!question.is_directory() || question.path().filename() == "node_modules") continue;
    for (const auto& file : fs::directory_iterator(question)) {
      const std::string name = file.path().filename().string();
      if (name.ends_with(".json") && std::ranges::count(name, '.') == 1)
        found.push_back(file.path());
    }
  }
  std::ranges::sort(found);
  return found;
}

/// Puts the hash of each loaded document in place of its name, wherever the request holds the name.
void put_hashes(Document& request, const std::map<std::string, std::string>& hashes) {
  if (request.is_string()) {
    const auto named = hashes.find(request.get<std::string>());
    if (named != hashes.end()) request = named->second;
  }
  if (request.is_structured())
    for (auto& item : request) put_hashes(item, hashes);
}

ask::Reply answer(const Document& question) {
  ask::Library library;
  std::map<std::string, std::string> hashes;
  const Document loads = question.value("loads", Document::object());
  for (const auto& [name, load] : loads.items()) {
    const std::string file = load.at("file").get<std::string>();
    const auto hash = library.load(load.at("kind").get<std::string>(), read(top / file), file);
    if (!hash)
      throw std::runtime_error(hash.error().where + ": " + hash.error().value + ". " +
                               hash.error().fix);
    hashes[name] = *hash;
  }
  Document request = question.at("request");
  Unwatched watch;
  OneLane lanes;
  if (request.is_string()) return ask::ask(request.get<std::string>(), {library, watch, lanes});
  put_hashes(request, hashes);
  return ask::ask(request.dump(), {library, watch, lanes});
}

class Contract : public testing::TestWithParam<fs::path> {};

TEST_P(Contract, TheReplyIsTheOneThatStandsInTheCorpus) {
  Document question = Document::parse(read(GetParam()));
  const ask::Reply reply = answer(question);
  if (std::getenv("BELLHOLE_WRITE_CONTRACT") != nullptr) {
    question["outcome"] = static_cast<int>(reply.outcome);
    question["reply"] = Document::parse(reply.document);
    std::ofstream(GetParam()) << question.dump(2) << '\n';
  }
  ASSERT_TRUE(question.contains("reply"))
      << "run with BELLHOLE_WRITE_CONTRACT=1 and read what is written";
  EXPECT_EQ(question.at("outcome").get<int>(), static_cast<int>(reply.outcome));
  const auto wanted = nlohmann::json::parse(question.at("reply").dump());
  for (const auto& difference : differences(wanted, nlohmann::json::parse(reply.document)))
    ADD_FAILURE() << difference;
}

TEST_P(Contract, AskingTwiceGivesTheSameBytes) {
  const Document question = Document::parse(read(GetParam()));
  EXPECT_EQ(answer(question).document, answer(question).document);
}

std::string name_of(const testing::TestParamInfo<fs::path>& info) {
  std::string name =
      info.param.parent_path().filename().string() + "_" + info.param.stem().string();
  std::ranges::replace_if(name, [](unsigned char c) { return std::isalnum(c) == 0; }, '_');
  return name;
}

INSTANTIATE_TEST_SUITE_P(Corpus, Contract, testing::ValuesIn(cases()), name_of);

}  // namespace
}  // namespace bellhole::contract
