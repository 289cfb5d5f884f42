#include "record/zip.h"

#include <zip.h>

#include <memory>

namespace dapple::record {

namespace {

using Archive = std::unique_ptr<zip_t, void (*)(zip_t*)>;  // closed without writing, unless released before
using File = std::unique_ptr<zip_file_t, int (*)(zip_file_t*)>;

tl::unexpected<Problems> no_zip(const std::string& file, const std::string& why) {
    return refuse({file, "", why, "a zip file made by dapple export"});
}

std::string words(zip_error_t& error) {
    std::string text = zip_error_strerror(&error);
    zip_error_fini(&error);
    return text;
}

// What libzip has written into the source.
std::string content(zip_source_t* source) {
    zip_stat_t about;
    std::string bytes;
    if (zip_source_stat(source, &about) != 0 || zip_source_open(source) != 0) return bytes;
    bytes.resize(about.size);
    const zip_int64_t read = zip_source_read(source, bytes.data(), bytes.size());
    zip_source_close(source);
    if (read < 0 || static_cast<std::size_t>(read) != bytes.size()) bytes.clear();
    return bytes;
}

}  // namespace

Expected<std::string> zipped(const std::map<std::string, std::string>& files, Moment at) {
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* target = zip_source_buffer_create(nullptr, 0, 0, &error);
    if (target == nullptr) return no_zip("", words(error));
    const std::unique_ptr<zip_source_t, void (*)(zip_source_t*)> kept(target, zip_source_free);
    Archive archive(zip_open_from_source(target, ZIP_TRUNCATE, &error), zip_discard);
    if (!archive) return no_zip("", words(error));
    zip_source_keep(target);
    const auto seconds = std::chrono::floor<std::chrono::seconds>(at).time_since_epoch().count();
    for (const auto& [name, text] : files) {
        zip_source_t* source = zip_source_buffer(archive.get(), text.data(), text.size(), 0);
        const zip_int64_t index = zip_file_add(archive.get(), name.c_str(), source, ZIP_FL_ENC_UTF_8);
        if (index < 0) {
            zip_source_free(source);
            return no_zip(name, zip_strerror(archive.get()));
        }
        zip_file_set_mtime(archive.get(), static_cast<zip_uint64_t>(index), seconds, 0);
    }
    if (zip_close(archive.get()) != 0) return no_zip("", zip_strerror(archive.get()));
    static_cast<void>(archive.release());  // zip_close has freed it
    std::string bytes = content(target);
    if (bytes.empty()) return no_zip("", "a zip that cannot be read back");
    return bytes;
}

Expected<std::map<std::string, std::string>> unzipped(const std::string& bytes, const std::string& file,
                                                      std::size_t most_bytes, std::size_t most_files) {
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
    if (source == nullptr) return no_zip(file, words(error));
    const Archive archive(zip_open_from_source(source, ZIP_RDONLY | ZIP_CHECKCONS, &error), zip_discard);
    if (!archive) {
        zip_source_free(source);
        return no_zip(file, words(error));
    }
    const zip_int64_t count = zip_get_num_entries(archive.get(), 0);
    if (count < 0 || static_cast<std::size_t>(count) > most_files)
        return no_zip(file, "too many files in it");
    std::map<std::string, std::string> files;
    std::size_t total = 0;
    for (zip_uint64_t i = 0; i < static_cast<zip_uint64_t>(count); ++i) {
        zip_stat_t about;
        if (zip_stat_index(archive.get(), i, 0, &about) != 0)
            return no_zip(file, zip_strerror(archive.get()));
        total += about.size;
        if (total > most_bytes) return no_zip(file, "more in it than fits");
        std::string text(about.size, '\0');
        const File entry(zip_fopen_index(archive.get(), i, 0), zip_fclose);
        if (!entry) return no_zip(file, zip_strerror(archive.get()));
        const zip_int64_t read = zip_fread(entry.get(), text.data(), text.size());
        if (read < 0 || static_cast<std::size_t>(read) != text.size()) {
            return no_zip(file, std::string("a file in it that is cut off: ") + about.name);
        }
        files[about.name] = std::move(text);
    }
    return files;
}

}  // namespace dapple::record
