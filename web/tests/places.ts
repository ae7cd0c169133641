// Where the build is: the engine's WebAssembly, the page, and what tests write to be looked at.
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const top = resolve(fileURLToPath(new URL('.', import.meta.url)), '../..');
export const engineFile = process.env['BELLHOLE_WASM'] ?? resolve(top, 'build/wasm/apps/browser/engine.wasm');
export const page = process.env['BELLHOLE_PAGE'] ?? resolve(top, 'build/web/ditch');
export const pictures = resolve(top, 'out/ditch');
