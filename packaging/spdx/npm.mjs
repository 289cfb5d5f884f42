// npm packages, from the lock file, which names version, licence and hash of each.
import { readFileSync } from 'node:fs';

/** `[{name, version, licence, why, sha512, inProgram}]`, each name and version once. */
export function locked(file, table) {
  const lock = JSON.parse(readFileSync(file, 'utf8'));
  const packages = new Map();
  for (const [path, entry] of Object.entries(lock.packages)) {
    if (path === '' || entry.link) continue;
    const name = entry.name ?? path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
    const key = `${name}@${entry.version}`;
    const inProgram = !entry.dev && !entry.devOptional;
    const known = packages.get(key);
    if (known) {
      known.inProgram ||= inProgram;
      continue;
    }
    const row = table.npm[name];
    const licence = row?.licence ?? entry.license;
    if (!licence) throw new Error(`${key} names no licence; add a line to licences.json`);
    packages.set(key, {
      name,
      version: entry.version,
      licence: licence.replace(/^\((.*)\)$/, '$1'),
      why: row?.why,
      sha512: entry.integrity?.startsWith('sha512-')
        ? Buffer.from(entry.integrity.slice('sha512-'.length), 'base64').toString('hex')
        : undefined,
      inProgram,
    });
  }
  return [...packages.values()].sort((a, b) =>
    `${a.name}@${a.version}` < `${b.name}@${b.version}` ? -1 : 1,
  );
}
