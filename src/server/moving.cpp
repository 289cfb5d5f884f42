// Moving house: import, first as a preview, and export as a zip that a person can read without us.
#include <nlohmann/json.hpp>

#include "record/exported.h"
#include "record/imported.h"
#include "server/answers.h"
#include "server/sites.h"
#include "server/writing.h"

namespace dapple::server {

using nlohmann::json;

namespace {

Response answer(const Asked& asked, const record::Result<record::ImportPreview>& preview) {
    if (!preview) return refusal(preview.error());
    json body = to_json(*preview);
    body["added"] = nullptr;
    if (asked.request.asked("apply") == "1") {
        const auto added = record::apply(*asked.service.store, asked.visitor.actor(), *preview);
        if (!added) return refusal(added.error());
        body["added"] = *added;
    }
    return json_answer(body);
}

std::string file_name(const Asked& asked, const char* otherwise) {
    const std::string name = asked.request.asked("file");
    return name.empty() ? otherwise : name;
}

Response readings(const Asked& asked) {
    const std::string site = asked.request.asked("site");
    const auto role = asked.visitor.role_at(site);
    if (!role) return not_there();
    if (*role != record::Role::manager) return forbidden("Import is a manager's");
    const std::string& type = asked.request.content_type;
    if (!type.starts_with("text/csv") && !type.starts_with("text/plain") &&
        !type.starts_with("application/json")) {
        return refusal(415, "The body must be text/csv, text/plain or application/json");
    }
    return answer(asked, record::preview_readings(*asked.service.store, site, asked.request.body,
                                                  file_name(asked, "readings")));
}

// Every site that a collection's writes touch must be one the visitor manages, or a new one.
Response collection(const Asked& asked) {
    if (!asked.request.content_type.starts_with("application/zip")) {
        return refusal(415, "The body must be application/zip");
    }
    const auto preview =
        record::preview_zip(*asked.service.store, asked.request.body, file_name(asked, "collection.zip"));
    if (preview && asked.service.options.accounts) {
        for (const record::Write& write : preview->writes) {
            const bool is_new = write.kind == "site";
            const bool fine = is_new || asked.visitor.may_write(write.site, "membership");
            if (!fine) return forbidden("The collection belongs to a site that you do not manage");
        }
    }
    return answer(asked, preview);
}

Response exported(const Asked& asked) {
    const auto sites = sites_asked(asked);
    if (!sites) return sites.error();
    if (sites->empty()) return refusal(404, "There is no site yet");
    const auto bytes = record::export_bytes(*asked.service.store, *sites);
    if (!bytes) return refusal(bytes.error());
    return {200,
            "application/zip",
            *bytes,
            {{"Cache-Control", "no-store"},
             {"Content-Disposition", "attachment; filename=\"dapple-collection.zip\""}}};
}

}  // namespace

std::vector<Route> moving_routes() {
    return {{"POST", "/api/import/readings", Access::manager, readings},
            {"POST", "/api/import/collection", Access::manager, collection},
            {"GET", "/api/export", Access::viewer, exported}};
}

}  // namespace dapple::server
