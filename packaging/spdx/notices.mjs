// Writes the notices of everything whose code the program carries in itself: the web application's packages, and the
// libraries that are compiled or linked into it. Their licences ask that these go along with it.
//
//   node packaging/spdx/notices.mjs > NOTICES        (web/node_modules has to be installed)
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { locked } from './npm.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const web = join(here, '../../web');
const table = JSON.parse(readFileSync(join(here, 'licences.json'), 'utf8'));

/** The package's own file of terms, or in its place what its lock entry says. */
function npmNotice({ path, licence }) {
  const folder = join(web, path);
  const file = existsSync(folder) && readdirSync(folder).find((name) => /^(licen[cs]e|copying)/i.test(name));
  return file
    ? readFileSync(join(folder, file), 'utf8').trim()
    : `${licence}; the package brings no file of its terms.`;
}

const debianNotice = (name) => readFileSync(`/usr/share/doc/${name}/copyright`, 'utf8').trim();

// Packages with the same text stand above it together.
const byText = new Map();
const add = (name, text) => byText.set(text, [...(byText.get(text) ?? []), name]);
for (const name of table.carried) add(`${name} (Debian)`, debianNotice(name));
for (const one of locked(join(web, 'package-lock.json'), table)) {
  if (one.inProgram) add(`${one.name} ${one.version} (npm)`, npmNotice(one));
}

console.log('Dapple carries code of these packages, each under the terms that follow its name.');
for (const [text, names] of byText)
  console.log(`\n${'='.repeat(100)}\n${names.join('\n')}\n${'-'.repeat(100)}\n${text}`);
