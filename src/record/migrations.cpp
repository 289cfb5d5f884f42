#include "record/migrations.h"

#include <fmt/format.h>

#include <string_view>

namespace dapple::record {

namespace {

// What every thing has. {} stands where a step names it.
constexpr std::string_view common =
    "id TEXT PRIMARY KEY, site TEXT NOT NULL REFERENCES sites(id), revision BIGINT NOT NULL, "
    "made_at TEXT NOT NULL, made_by TEXT NOT NULL REFERENCES people(id), "
    "changed_at TEXT NOT NULL, changed_by TEXT NOT NULL REFERENCES people(id), retired_at TEXT";

// Types: TEXT, BIGINT and DOUBLE PRECISION mean the same in both databases; TEXT is compared byte by byte (see below).
constexpr std::string_view step_1 = R"(
CREATE TABLE people (id TEXT PRIMARY KEY, site TEXT, revision BIGINT NOT NULL,
  made_at TEXT NOT NULL, made_by TEXT NOT NULL REFERENCES people(id) DEFERRABLE INITIALLY DEFERRED,
  changed_at TEXT NOT NULL, changed_by TEXT NOT NULL REFERENCES people(id) DEFERRABLE INITIALLY DEFERRED,
  retired_at TEXT, name TEXT NOT NULL, login TEXT, settings TEXT);
CREATE UNIQUE INDEX people_login ON people (lower(login));
INSERT INTO people (id, revision, made_at, made_by, changed_at, changed_by, name)
  VALUES ('local', 1, '2026-01-01T00:00:00.000Z', 'local', '2026-01-01T00:00:00.000Z', 'local', 'At this machine');
CREATE TABLE sites ({}, name TEXT NOT NULL, time_zone TEXT, lat_deg DOUBLE PRECISION, lon_deg DOUBLE PRECISION,
  elevation_m DOUBLE PRECISION, survey_every_days BIGINT, note TEXT);
CREATE TABLE rooms ({}, name TEXT NOT NULL, note TEXT);
CREATE TABLE enclosures ({}, document TEXT NOT NULL, room TEXT REFERENCES rooms(id), survey_every_days BIGINT,
  note TEXT);
CREATE INDEX enclosures_site ON enclosures (site, id);
CREATE TABLE animals ({}, species TEXT NOT NULL, name TEXT, count BIGINT, sex TEXT, born_on TEXT, came_on TEXT,
  enclosure TEXT REFERENCES enclosures(id), note TEXT);
CREATE INDEX animals_enclosure ON animals (enclosure);
CREATE TABLE moves ({}, animal TEXT NOT NULL REFERENCES animals(id), from_enclosure TEXT REFERENCES enclosures(id),
  to_enclosure TEXT REFERENCES enclosures(id), moved_on TEXT NOT NULL, note TEXT);
CREATE INDEX moves_animal ON moves (animal, moved_on);
CREATE TABLE lamps ({}, name TEXT NOT NULL, lamp_kind TEXT, model TEXT, spectrum TEXT, power_w DOUBLE PRECISION,
  bought_on TEXT, price DOUBLE PRECISION, enclosure TEXT REFERENCES enclosures(id), place TEXT, installed_on TEXT,
  hours_on DOUBLE PRECISION, hours_before DOUBLE PRECISION, retired_on TEXT, note TEXT);
CREATE INDEX lamps_enclosure ON lamps (enclosure);
CREATE TABLE lamp_events ({}, lamp TEXT NOT NULL REFERENCES lamps(id), what TEXT NOT NULL, happened_on TEXT NOT NULL,
  enclosure TEXT REFERENCES enclosures(id), place TEXT, hours DOUBLE PRECISION, note TEXT);
CREATE INDEX lamp_events_lamp ON lamp_events (lamp, happened_on);
CREATE TABLE meters ({}, name TEXT NOT NULL, measures TEXT NOT NULL, model TEXT, serial TEXT, bought_on TEXT,
  calibrate_every_months BIGINT, note TEXT);
CREATE TABLE calibrations ({}, meter TEXT NOT NULL REFERENCES meters(id), calibrated_on TEXT NOT NULL,
  factor DOUBLE PRECISION NOT NULL, offset_by DOUBLE PRECISION, certificate TEXT, note TEXT);
CREATE INDEX calibrations_meter ON calibrations (meter, calibrated_on);
CREATE TABLE surveys ({}, enclosure TEXT NOT NULL REFERENCES enclosures(id), begun_at TEXT NOT NULL, ended_at TEXT,
  note TEXT);
CREATE INDEX surveys_enclosure ON surveys (enclosure, begun_at);
CREATE TABLE readings ({}, enclosure TEXT NOT NULL REFERENCES enclosures(id), survey TEXT REFERENCES surveys(id),
  spot TEXT, x_cm DOUBLE PRECISION, y_cm DOUBLE PRECISION, z_cm DOUBLE PRECISION, height_cm DOUBLE PRECISION,
  quantity TEXT NOT NULL, value DOUBLE PRECISION NOT NULL, facing TEXT, meter TEXT REFERENCES meters(id),
  meter_words TEXT, lamp TEXT REFERENCES lamps(id), taken_at TEXT NOT NULL, note TEXT);
CREATE INDEX readings_enclosure ON readings (enclosure, taken_at);
CREATE TABLE tasks ({}, title TEXT NOT NULL, enclosure TEXT REFERENCES enclosures(id), lamp TEXT REFERENCES lamps(id),
  meter TEXT REFERENCES meters(id), due_on TEXT, fix TEXT, done_on TEXT, outcome TEXT, note TEXT);
CREATE INDEX tasks_enclosure ON tasks (enclosure);
CREATE TABLE notes ({}, about_kind TEXT NOT NULL, about TEXT NOT NULL, written_on TEXT NOT NULL, text TEXT NOT NULL);
CREATE INDEX notes_about ON notes (about_kind, about);
CREATE TABLE memberships ({}, person TEXT NOT NULL REFERENCES people(id), role TEXT NOT NULL);
CREATE UNIQUE INDEX memberships_once ON memberships (person, site) WHERE retired_at IS NULL;
CREATE TABLE versions (kind TEXT NOT NULL, id TEXT NOT NULL, revision BIGINT NOT NULL, changed_at TEXT NOT NULL,
  changed_by TEXT NOT NULL REFERENCES people(id), retired_at TEXT, fields TEXT NOT NULL,
  PRIMARY KEY (kind, id, revision));
CREATE TABLE changes (seq BIGINT PRIMARY KEY, done_at TEXT NOT NULL, done_by TEXT NOT NULL REFERENCES people(id),
  kind TEXT NOT NULL, id TEXT NOT NULL, site TEXT, revision BIGINT NOT NULL, deed TEXT NOT NULL, why TEXT);
CREATE INDEX changes_thing ON changes (kind, id, revision);
CREATE TABLE answers (person TEXT NOT NULL REFERENCES people(id), idempotency_key TEXT NOT NULL,
  request TEXT NOT NULL, kind TEXT NOT NULL, id TEXT NOT NULL, revision BIGINT NOT NULL, answered_at TEXT NOT NULL,
  PRIMARY KEY (person, idempotency_key));
CREATE TABLE passwords (person TEXT PRIMARY KEY REFERENCES people(id), hash TEXT NOT NULL, set_at TEXT NOT NULL);
CREATE TABLE sessions (digest TEXT PRIMARY KEY, person TEXT NOT NULL REFERENCES people(id), begun_at TEXT NOT NULL,
  expires_at TEXT NOT NULL, ended_at TEXT);
CREATE TABLE invitations (id TEXT PRIMARY KEY, digest TEXT NOT NULL UNIQUE, site TEXT NOT NULL REFERENCES sites(id),
  role TEXT NOT NULL, made_at TEXT NOT NULL, made_by TEXT NOT NULL REFERENCES people(id), expires_at TEXT NOT NULL,
  used_at TEXT, used_by TEXT REFERENCES people(id), withdrawn_at TEXT);
)";

// Attachments of documents, and indexes that the collection page and Today want on a million readings.
constexpr std::string_view step_2 = R"(
CREATE TABLE files ({}, name TEXT NOT NULL, text TEXT NOT NULL);
CREATE UNIQUE INDEX files_name ON files (site, name) WHERE retired_at IS NULL;
CREATE INDEX readings_survey ON readings (survey);
CREATE INDEX readings_lamp ON readings (lamp, taken_at) WHERE lamp IS NOT NULL;
CREATE INDEX readings_site ON readings (site, taken_at);
CREATE INDEX lamps_site ON lamps (site, id);
CREATE INDEX tasks_open ON tasks (site) WHERE done_on IS NULL;
CREATE INDEX changes_site ON changes (site, seq);
)";

constexpr std::string_view steps[] = {step_1, step_2};

std::string replaced(std::string text, std::string_view what, std::string_view by) {
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += by.size()) {
        text.replace(at, what.size(), by);
    }
    return text;
}

std::string in_words_of(Engine engine, std::string_view step) {
    std::string sql = replaced(std::string(step), "{}", common);
    if (engine == Engine::sqlite) return sql;
    // SQLite compares texts byte by byte; PostgreSQL would by the language of its computer.
    return replaced(sql, " TEXT", " TEXT COLLATE \"C\"");
}

bool has_table(Connection& connection, const std::string& table) {
    const char* sql =
        connection.engine() == Engine::sqlite
            ? "select count(*) from sqlite_master where type = 'table' and name = ?"
            : "select count(*) from pg_tables where schemaname = current_schema() and tablename = ?";
    return whole_of(connection.rows(sql, "i", {text(table)})[0][0]) > 0;
}

bool has_any_table(Connection& connection) {
    const char* sql = connection.engine() == Engine::sqlite
                          ? "select count(*) from sqlite_master where type = 'table'"
                          : "select count(*) from pg_tables where schemaname = current_schema()";
    return whole_of(connection.rows(sql, "i")[0][0]) > 0;
}

}  // namespace

int newest_version() {
    return static_cast<int>(std::size(steps));
}

Result<int> version_of(Connection& connection) {
    if (!has_table(connection, "dapple_versions")) {
        if (!has_any_table(connection)) return 0;
        return refuse_as(Trouble::invalid, {"", "database", "tables of another program",
                                            "an empty database, or one that Dapple made"});
    }
    const auto version =
        static_cast<int>(whole_of(connection.rows("select max(version) from dapple_versions", "i")[0][0]));
    if (version <= newest_version()) return version;
    return refuse_as(
        Trouble::too_new,
        {"", "database", fmt::format("a record of version {}, written by a later Dapple", version),
         fmt::format("version {} or earlier: install the Dapple that wrote it or a later one, or restore a "
                     "backup made before it was brought up to date; nothing was changed",
                     newest_version())});
}

Result<void> migrate(Connection& connection, Moment now, int version) {
    connection.begin_write();
    const auto found = version_of(connection);
    if (!found) {
        connection.roll_back();
        return tl::unexpected(found.error());
    }
    if (*found == 0) {
        connection.script("CREATE TABLE dapple_versions (version BIGINT PRIMARY KEY, since TEXT NOT NULL)");
    }
    for (int step = *found; step < version; ++step) {
        connection.script(in_words_of(connection.engine(), steps[step]));
        connection.run("insert into dapple_versions (version, since) values (?, ?)",
                       {whole(step + 1), text(to_text(now))});
    }
    connection.commit();
    return {};
}

}  // namespace dapple::record
