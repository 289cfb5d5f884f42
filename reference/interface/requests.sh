#!/usr/bin/env bash
# reference/interface/requests.sh PROGRAM [EXAMPLES, 12]: a property-based tester asks every address of the running program
# what its own description allows and forbids, and checks that nothing ends in a fault of ours (5xx), in a status or a type
# that is not described, or in an answer that does not fit its schema. Schemathesis is from PyPI
# (https://schemathesis.readthedocs.io). Left out: /api/events, whose answer has no end, and the import of a zip, which it cannot
# make.
set -euo pipefail
program=$(readlink -f "$1")
examples=${2:-12}
folder=$(mktemp -d)
trap 'kill "$server" 2>/dev/null || true; rm -rf "$folder"' EXIT
python3 -m venv "$folder/venv"
"$folder/venv/bin/pip" -q install "schemathesis==4.32.0" 2>/dev/null || "$folder/venv/bin/pip" -q install schemathesis
"$program" demo --listen 127.0.0.1:8479 >"$folder/demo.log" 2>&1 &
server=$!
for _ in $(seq 120); do curl -sf http://127.0.0.1:8479/api/openapi.json >/dev/null && break; sleep 1; done
"$folder/venv/bin/schemathesis" run http://127.0.0.1:8479/api/openapi.json \
    --exclude-path /api/events --exclude-path /api/import/collection --max-examples "$examples" --phases examples,fuzzing --seed 1 --request-timeout 120 \
    --checks not_a_server_error,status_code_conformance,content_type_conformance,response_schema_conformance
