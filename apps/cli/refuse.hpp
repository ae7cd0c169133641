// Trouble at the door.
#pragma once

#include "findings/trouble.hpp"

namespace bellhole::cli {

/// Trouble on standard error; with `json` also as a document on standard output. Answers the exit
/// code.
int refuse(const Trouble& trouble, bool json);

/// The document alone.
void print_refusal(const Trouble& trouble);

}  // namespace bellhole::cli
