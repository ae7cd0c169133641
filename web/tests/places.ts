// Where the build is: the engines' WebAssembly, the page, and what tests write to be looked at.
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const top = resolve(fileURLToPath(new URL('.', import.meta.url)), '../..');
const engines = process.env['BELLHOLE_WASM'] ?? resolve(top, 'build/wasm/apps/browser');
export const engineFile = resolve(engines, 'engine.wasm');
export const quickFile = resolve(engines, 'quick.wasm');
export const page = process.env['BELLHOLE_PAGE'] ?? resolve(top, 'build/web/ditch');
export const pictures = resolve(top, 'out/ditch');
