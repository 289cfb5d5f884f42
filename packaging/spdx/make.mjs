// Writes packaging/dependencies.spdx.json: everything Dapple is built with, loads and carries, each with its licence, as
// an SPDX 2.3 document.
//
//   node packaging/spdx/make.mjs build/release/dapple > packaging/dependencies.spdx.json
//
// The program is asked which shared libraries it loads; they have to be Debian's. Made anew whenever packages/debian.txt
// or web/package-lock.json changes; tests/packages notices what is missing.
import { createHash } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { installed, licence, loaded, named } from './debian.mjs';
import { locked } from './npm.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '../..');
const table = JSON.parse(readFileSync(join(here, 'licences.json'), 'utf8'));
const version = /project\(dapple VERSION (\S+)/.exec(readFileSync(join(root, 'CMakeLists.txt'), 'utf8'))[1];

const ours = 'SPDXRef-dapple';
const id = (kind, name) => `SPDXRef-${kind}-${name.replace(/[^A-Za-z0-9.]+/g, '-')}`;
const relationship = (from, type, to) => ({
  spdxElementId: from,
  relationshipType: type,
  relatedSpdxElement: to,
});

const plain = {
  downloadLocation: 'NOASSERTION',
  filesAnalyzed: false,
  copyrightText: 'NOASSERTION',
};

function debianPackage(debian) {
  const { declared, concluded, why } = licence(debian, table);
  return {
    SPDXID: id('deb', debian.name),
    name: debian.name,
    versionInfo: debian.version,
    supplier: 'Organization: Debian',
    ...plain,
    licenseConcluded: concluded,
    licenseDeclared: declared,
    ...(why && { licenseComments: why }),
    sourceInfo: `Debian source package ${debian.source}`,
    externalRefs: [
      {
        referenceCategory: 'PACKAGE-MANAGER',
        referenceType: 'purl',
        referenceLocator: `pkg:deb/debian/${encodeURIComponent(debian.name)}@${encodeURIComponent(debian.version)}?arch=${debian.architecture}&distro=bookworm`,
      },
    ],
  };
}

const npmName = (name) => name.replace('@', '%40');

function npmPackage(npm) {
  return {
    SPDXID: id('npm', `${npm.name}-${npm.version}`),
    name: npm.name,
    versionInfo: npm.version,
    supplier: 'NOASSERTION',
    ...plain,
    licenseConcluded: npm.licence,
    licenseDeclared: npm.licence,
    ...(npm.why && { licenseComments: npm.why }),
    ...(npm.sha512 && { checksums: [{ algorithm: 'SHA512', checksumValue: npm.sha512 }] }),
    externalRefs: [
      {
        referenceCategory: 'PACKAGE-MANAGER',
        referenceType: 'purl',
        referenceLocator: `pkg:npm/${npmName(npm.name)}@${npm.version}`,
      },
    ],
  };
}

/** When this was made: SOURCE_DATE_EPOCH, else the commit's time, so that the same sources give the same document. */
function created() {
  const seconds =
    process.env.SOURCE_DATE_EPOCH ??
    execFileSync('git', ['-C', root, 'log', '-1', '--format=%ct'], { encoding: 'utf8' });
  return new Date(Number(seconds) * 1000).toISOString().replace(/\.\d+Z/, 'Z');
}

function document(program) {
  const building = named(join(root, 'packages/debian.txt'));
  const loading = loaded(program);
  const debian = [...new Set([...building, ...loading])].sort().map(installed);
  const npm = locked(join(root, 'web/package-lock.json'), table);

  const packages = [
    {
      SPDXID: ours,
      name: 'dapple',
      versionInfo: version,
      supplier: 'Organization: The Dapple maintainers',
      ...plain,
      licenseConcluded: 'Apache-2.0',
      licenseDeclared: 'Apache-2.0',
      primaryPackagePurpose: 'APPLICATION',
    },
    ...debian.map(debianPackage),
    ...npm.map(npmPackage),
  ];
  const relationships = [
    relationship('SPDXRef-DOCUMENT', 'DESCRIBES', ours),
    ...building.map((name) => relationship(id('deb', name), 'BUILD_DEPENDENCY_OF', ours)),
    ...loading.sort().map((name) => relationship(ours, 'DYNAMIC_LINK', id('deb', name))),
    ...npm.map((one) => {
      const self = id('npm', `${one.name}-${one.version}`);
      return one.inProgram
        ? relationship(ours, 'DEPENDS_ON', self)
        : relationship(self, 'DEV_DEPENDENCY_OF', ours);
    }),
  ];
  const digest = createHash('sha256')
    .update(JSON.stringify([packages, relationships]))
    .digest('hex');
  const used = JSON.stringify(packages);
  return {
    spdxVersion: 'SPDX-2.3',
    dataLicense: 'CC0-1.0',
    SPDXID: 'SPDXRef-DOCUMENT',
    name: `dapple-${version}-dependencies`,
    documentNamespace: `https://spdx.org/spdxdocs/dapple-${version}-${digest.slice(0, 32)}`,
    creationInfo: {
      created: created(),
      creators: ['Tool: packaging/spdx/make.mjs', 'Organization: The Dapple maintainers'],
    },
    hasExtractedLicensingInfos: Object.entries(table.texts)
      .filter(([licenceId]) => used.includes(licenceId))
      .map(([licenseId, { name, text }]) => ({ licenseId, name, extractedText: text })),
    packages,
    relationships,
  };
}

// One package or relationship a line, so that a change of one is one changed line.
function lines(object) {
  const fields = Object.entries(object).map(([name, value]) => {
    const text = Array.isArray(value)
      ? `[\n${value.map((one) => `  ${JSON.stringify(one)}`).join(',\n')}\n ]`
      : JSON.stringify(value);
    return ` ${JSON.stringify(name)}: ${text}`;
  });
  return `{\n${fields.join(',\n')}\n}`;
}

const program = process.argv[2];
if (!program) {
  console.error(
    'node packaging/spdx/make.mjs PROGRAM: found no PROGRAM; allowed: the built dapple, build/release/dapple',
  );
  process.exit(2);
}
console.log(lines(document(program)));
