#include "ask/library.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "wire/event.hpp"
#include "wire/json.hpp"
#include "wire/network_file.hpp"

namespace bellhole::ask {
namespace {

template <class Held>
Result<Held> held(const std::map<std::string, Held>& all, std::string_view kind,
                  const std::string& hash) {
  const auto found = all.find(hash);
  if (found == all.end())
    return trouble(Code::unreadable_document, std::string(kind), hash,
                   fmt::format("load the {} first; this hash is not loaded", kind));
  return found->second;
}

}  // namespace

Result<std::string> Library::load(std::string_view kind, std::string_view bytes,
                                  std::string_view where) {
  std::string hash = wire::sha256(bytes);
  if (kind == "network") {
    if (networks_.contains(hash)) return hash;
    BELLHOLE_TRY(network, wire::read_network(bytes, where));
    networks_.emplace(hash,
                      std::make_shared<LoadedNetwork>(LoadedNetwork{hash, std::move(network)}));
    return hash;
  }
  if (kind == "profile") {
    if (profiles_.contains(hash)) return hash;
    BELLHOLE_TRY(json, wire::parse_json(bytes, where));
    static_cast<void>(json);
    profiles_.emplace(hash,
                      std::make_shared<LoadedProfile>(wire::read_profile(bytes, "procedure"),
                                                      wire::read_prompts(bytes, "procedure")));
    return hash;
  }
  const bool reply = kind == "plan" || kind == "time-left";
  if (reply || kind == "tools" || kind == "order") {
    const wire::Cap cap = reply ? wire::plan_cap : wire::Cap{};
    BELLHOLE_TRY(json, wire::parse_json(bytes, where, cap));
    static_cast<void>(json);
    documents_.insert_or_assign(hash, Document{std::string(kind), std::string(bytes)});
    return hash;
  }
  if (kind == "log") {  // lines, not a document: read when it is asked about
    if (bytes.size() > wire::log_cap_bytes)
      return trouble(Code::too_large, std::string(where), fmt::format("{} bytes", bytes.size()),
                     fmt::format("at most {} bytes of a log are read", wire::log_cap_bytes));
    documents_.insert_or_assign(hash, Document{std::string(kind), std::string(bytes)});
    return hash;
  }
  return trouble(Code::unreadable_value, std::string(where), std::string(kind),
                 "load one of: network, profile, tools, order, plan, time-left, log");
}

void Library::drop(const std::string& hash) {
  networks_.erase(hash);
  profiles_.erase(hash);
  documents_.erase(hash);
}

Result<std::shared_ptr<const LoadedNetwork>> Library::network(const std::string& hash) const {
  return held(networks_, "network", hash);
}

Result<std::shared_ptr<const LoadedProfile>> Library::profile(const std::string& hash) const {
  return held(profiles_, "profile", hash);
}

Result<std::string_view> Library::document(std::string_view kind, const std::string& hash) const {
  const auto found = documents_.find(hash);
  if (found == documents_.end() || found->second.kind != kind) {
    return trouble(Code::unreadable_document, std::string(kind), hash,
                   fmt::format("load the {} first; this hash is not loaded", kind));
  }
  return std::string_view(found->second.bytes);
}

}  // namespace bellhole::ask
