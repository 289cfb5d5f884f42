// The HTTP interface of contract.md as a function from request to response: no sockets, no clock, no files.
//
//   GET  /api/enclosures            the collection, each enclosure with its judgement
//   GET  /api/enclosures/{id}       one document
//   POST /api/check                 {"enclosure"}                                    -> check --json
//   POST /api/at                    {"enclosure", "points_cm", "facing", "bounces"}  -> at --json
//   POST /api/field                 see field_grid.h
//   POST /api/fix                   {"enclosure"}                                    -> fix --json
//   POST /api/meshes                {"enclosure"}: furniture that is triangles, placed
//   GET  /api/species?words=        sheets, best match first
//   GET  /api/species/{id}          one sheet
//   GET  /api/materials, /api/spectra, /api/schema/enclosure, /api/openapi.json
//
// Whatever cannot be used is refused with problem details (answers.h): 400 for a body that is no JSON object
// of ours, 404, 405, 415, and 422 for a document that can be read but not be used.
#pragma once

#include <memory>

#include "server/request.h"

namespace dapple::server {

class Api {
  public:
    Api();
    ~Api();
    Api(Api&&) noexcept;
    Api& operator=(Api&&) noexcept;

    // Safe to call from several threads.
    Response answer(const Request& request);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace dapple::server
