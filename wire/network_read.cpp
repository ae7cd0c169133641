// Reading a network document.
#include "wire/network_reader.hpp"

#include "wire/network_file.hpp"

namespace bellhole::wire {
namespace {

Result<bool> check_kind(const Json& document, std::string_view name) {
  if (!document.is_object()) {
    return trouble(Code::unreadable_document, std::string(name), shown(document),
                   "give a network document: an object");
  }
  const auto kind = document.find("document");
  if (kind == document.end() || *kind != network_document) {
    return trouble(
        Code::unreadable_document, fmt::format("{}: document", name),
        kind == document.end() ? "" : shown(*kind),
        fmt::format("this is not a network: `bellhole import` writes one (\"document\": \"{}\")",
                    network_document));
  }
  const auto version = document.find("version");
  if (version == document.end() || *version != network_version) {
    return trouble(Code::unreadable_document, fmt::format("{}: version", name),
                   version == document.end() ? "" : shown(*version),
                   fmt::format("this Bellhole reads version {}", network_version));
  }
  return true;
}

}  // namespace

Result<network::Network> read_network(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(document, parse_json(bytes, name, network_cap));
  BELLHOLE_TRY(checked, check_kind(document, name));
  static_cast<void>(checked);
  network::Network net;
  Reader reader(document, name);
  describe(reader, net);
  reader.finish();
  if (reader.trouble_found) return std::unexpected(std::move(*reader.trouble_found));
  return net;
}

}  // namespace bellhole::wire
