"""Holds packaging/dependencies.spdx.json to SPDX 2.3 by the SPDX project's own tools (spdx-tools 0.8.5)."""

import pathlib
import sys

from spdx_tools.spdx.parser.parse_anything import parse_file
from spdx_tools.spdx.validation.document_validator import validate_full_spdx_document

path = pathlib.Path(__file__).resolve().parents[2] / "packaging" / "dependencies.spdx.json"
document = parse_file(str(path))
messages = validate_full_spdx_document(document, "SPDX-2.3")
for message in messages:
    print(message.validation_message, message.context.spdx_id)
print(f"{len(document.packages)} packages, {len(document.relationships)} relationships, {len(messages)} faults")
sys.exit(1 if messages else 0)
