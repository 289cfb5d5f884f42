// SOCI as Debian packages it says it was built with Boost, whose headers it does not bring; only the bindings of Boost's
// own types need them, and nothing here uses those.
#pragma once

#include <soci/soci-config.h>
#undef SOCI_HAVE_BOOST
#undef SOCI_HAVE_BOOST_DATE_TIME

#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
