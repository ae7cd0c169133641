// What a door has loaded: networks, profiles, tool records, named by the hash of their bytes.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "findings/trouble.hpp"
#include "network/columns.hpp"
#include "procedure/profile.hpp"
#include "wire/profile.hpp"

namespace bellhole::ask {

/// A network as loaded, and what was prepared from it once for all questions.
struct LoadedNetwork {
  std::string hash;
  network::Network network;
};

/// A profile as loaded, read once for all questions. What is wrong with it is said to the question
/// that names it, so that a file on a phone that a newer engine refuses does not stop its loading.
struct LoadedProfile {
  Result<procedure::Profile> profile;
  Result<std::vector<wire::Prompt>> prompts;
};

class Library {
 public:
  /// Takes a document in. `kind` is "network", "profile", "tools", "order", or the question that it
  /// is the reply of: "plan", "time-left"; `where` names it for trouble. Answers its hash: SHA-256
  /// of the exact bytes, hex. Loading the same bytes twice is one document.
  Result<std::string> load(std::string_view kind, std::string_view bytes, std::string_view where);

  /// Lets go of a document. Unknown hashes are ignored: dropping twice is no trouble.
  void drop(const std::string& hash);

  /// Errors: unreadable_document when nothing of that kind is loaded under the hash.
  [[nodiscard]] Result<std::shared_ptr<const LoadedNetwork>> network(const std::string& hash) const;
  /// Errors: unreadable_document likewise.
  [[nodiscard]] Result<std::shared_ptr<const LoadedProfile>> profile(const std::string& hash) const;
  /// The bytes of any document but a network or a profile.
  [[nodiscard]] Result<std::string_view> document(std::string_view kind,
                                                  const std::string& hash) const;

 private:
  struct Document {
    std::string kind, bytes;
  };
  std::map<std::string, std::shared_ptr<const LoadedNetwork>> networks_;
  std::map<std::string, std::shared_ptr<const LoadedProfile>> profiles_;
  std::map<std::string, Document> documents_;
};

}  // namespace bellhole::ask
