// Builds the service worker beside the application, with the list of the files it keeps and a version that changes
// with any of them.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { transformWithEsbuild, type Plugin, type ResolvedConfig } from 'vite';

const source = 'src/offline/worker/serviceWorker.ts';

export function precache(): Plugin {
  let config: ResolvedConfig;
  return {
    name: 'dapple-precache',
    apply: 'build',
    configResolved(resolved) {
      config = resolved;
    },
    // After everything else, so that the page is in its last form.
    generateBundle: {
      order: 'post',
      async handler(_, bundle) {
        const hash = createHash('sha256');
        const files: string[] = [];
        const take = (name: string, content: string | Uint8Array) => {
          hash.update(name).update(content);
          if (name !== 'index.html') files.push(`/${name}`);
        };
        for (const name of readdirSync(config.publicDir, { recursive: true, encoding: 'utf8' }).sort()) {
          const path = join(config.publicDir, name);
          if (statSync(path).isFile()) take(name, readFileSync(path));
        }
        for (const name of Object.keys(bundle).sort()) {
          const part = bundle[name];
          if (part) take(name, part.type === 'chunk' ? part.code : part.source);
        }
        const worker = readFileSync(join(config.root, source), 'utf8');
        hash.update(worker);
        const { code } = await transformWithEsbuild(worker, source, {
          format: 'iife',
          target: 'es2022',
          minify: true,
          sourcemap: false,
          define: {
            __FILES__: JSON.stringify(files),
            __VERSION__: JSON.stringify(hash.digest('hex').slice(0, 16)),
          },
        });
        this.emitFile({ type: 'asset', fileName: 'service-worker.js', source: code });
      },
    },
  };
}
