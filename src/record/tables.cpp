#include "record/tables.h"

#include <fmt/format.h>

#include <stdexcept>

#include "record/migrations.h"

namespace dapple::record {

namespace {

char type_named(const std::string& type) {
    if (type == "TEXT") return 't';
    if (type == "BIGINT") return 'i';
    if (type == "DOUBLE PRECISION") return 'r';
    throw std::logic_error("a column of the type " + type);
}

}  // namespace

std::string Table::select() const {
    return fmt::format("select {} from {} order by {}", fmt::join(columns, ", "), name, order);
}

std::string Table::insert() const {
    std::string marks;
    for (std::size_t i = 0; i < columns.size(); ++i) marks += i == 0 ? "?" : ", ?";
    return fmt::format("insert into {} ({}) values ({})", name, fmt::join(columns, ", "), marks);
}

std::vector<Table> tables_of(int version) {
    // An empty database in memory knows best what the migrations make.
    Connection form(":memory:", Purpose::write);
    if (!migrate(form, Moment{}, version)) throw std::logic_error("an empty database cannot be made");
    std::vector<Table> tables;
    for (const Row& found : form.rows("select name from sqlite_master where type = 'table' and name not like "
                                      "'sqlite_%' and name <> 'dapple_versions' order by rowid",
                                      "t")) {
        Table table{text_of(found[0]), {}, {}, {}};
        form.each("select name, type, pk from pragma_table_info(?) order by pk, cid", "tti", {found[0]},
                  [&table](const Row& column) {
                      table.columns.push_back(text_of(column[0]));
                      table.types += type_named(text_of(column[1]));
                      if (whole_of(column[2]) > 0)
                          table.order += (table.order.empty() ? "" : ", ") + table.columns.back();
                  });
        tables.push_back(std::move(table));
    }
    return tables;
}

}  // namespace dapple::record
