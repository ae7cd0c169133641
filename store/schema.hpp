// The tables of a store, and how an older store becomes one of this version.
#pragma once

#include "store/sql.hpp"

namespace bellhole::store {

/// Runs the migrations that a store lacks, all or none. Errors: unreadable_file for a store of a
/// later version; those of Database.
Result<bool> bring_forward(Database& database);

}  // namespace bellhole::store
