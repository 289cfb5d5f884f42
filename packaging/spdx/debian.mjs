// Debian packages as SPDX packages: which there are, and under what licence, by their own copyright files.
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, realpathSync } from 'node:fs';
import { basename } from 'node:path';

const run = (program, words) =>
  execFileSync(program, words, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });

/** The names in a list of packages/, one a line, `#` begins a comment. */
export const named = (list) =>
  readFileSync(list, 'utf8')
    .split('\n')
    .map((line) => line.replace(/#.*/, '').trim())
    .filter(Boolean);

/** The packages of every shared library that `program` loads, by the loader's own account. */
export function loaded(program) {
  const paths = run('ldd', [program])
    .split('\n')
    .map((line) => /=> (\/\S+)|^\s*(\/\S+) \(/.exec(line))
    .filter(Boolean)
    .map((found) => found[1] ?? found[2]);
  // The loader says /lib where dpkg may know the file as below /usr/lib, or the other way round.
  return [
    ...new Set(
      paths.map((path) => owner([path, `/usr${path}`, path.replace(/^\/usr/, ''), realpathSync(path)])),
    ),
  ];
}

function owner(paths) {
  for (const path of paths) {
    try {
      return run('dpkg-query', ['--search', path]).split(':')[0];
    } catch {
      // The next spelling.
    }
  }
  throw new Error(`no Debian package owns ${basename(paths[0])}`);
}

/** `{name, version, architecture, source}` of an installed package. */
export function installed(name) {
  const format = '${Package}\t${Version}\t${Architecture}\t${source:Package}\n';
  const [line] = run('dpkg-query', ['--show', '-f', format, name]).trim().split('\n');
  const [own, version, architecture, source] = line.split('\t');
  return { name: own, version, architecture, source };
}

/** The licence in the paragraph `Files: *` of a machine-readable copyright file, in Debian's words; else nothing. */
export function declared(name) {
  const file = `/usr/share/doc/${name}/copyright`;
  if (!existsSync(file)) return undefined;
  const paragraphs = readFileSync(file, 'utf8').split(/\n\s*\n/);
  const whole = paragraphs.find((paragraph) => /^Files:\s*\*\s*$/m.test(paragraph));
  return whole && /^License:\s*(.+)$/m.exec(whole)?.[1].trim();
}

/** `{declared, concluded, why}` as SPDX expressions. A licence nobody has looked up stops the making. */
export function licence(debian, table) {
  const word = declared(debian.name);
  const row = table.sources[debian.source];
  const expression = word && table.names[word];
  if (!row && !expression) {
    throw new Error(
      `${debian.name} (source ${debian.source}): ${word ? `"${word}" is not among names` : 'its copyright file names none'}; add a line to licences.json`,
    );
  }
  const byPackage = row?.packages?.[debian.name];
  return {
    declared: expression ?? 'NOASSERTION',
    concluded: byPackage ?? row?.licence ?? expression,
    why: row?.why,
  };
}
