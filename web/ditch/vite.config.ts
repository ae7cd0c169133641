import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

import { defineConfig } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';

const here = fileURLToPath(new URL('.', import.meta.url));
const top = resolve(here, '../..');
const engines = process.env['BELLHOLE_WASM'] ?? resolve(top, 'build/wasm/apps/browser');

export default defineConfig({
  root: here,
  resolve: { alias: ['engine', 'quick'].map((name) => ({ find: new RegExp(`^@${name}\\.wasm`), replacement: resolve(engines, `${name}.wasm`) })) },
  build: {
    outDir: process.env['BELLHOLE_PAGE'] ?? resolve(top, 'build/web/ditch'),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  worker: { format: 'es' },
  plugins: [
    VitePWA({
      registerType: 'prompt',
      injectRegister: null,
      workbox: {
        globPatterns: ['**/*.{js,css,html,svg,png,wasm,webmanifest}'],
        maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
        cleanupOutdatedCaches: true,
      },
      manifest: {
        name: 'Bellhole',
        short_name: 'Bellhole',
        description: 'Squeeze-off of a gas main, in the ditch, without signal',
        display: 'standalone',
        start_url: '/',
        background_color: '#ffffff',
        theme_color: '#000000',
        icons: [
          { src: '/sign.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' },
          { src: '/sign-512.png', sizes: '512x512', type: 'image/png', purpose: 'any' },
        ],
      },
    }),
  ],
});
