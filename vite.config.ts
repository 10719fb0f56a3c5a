import react from '@vitejs/plugin-react';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { licences } from './src/app/licences/gather.ts';

const underTest = process.env.VITEST !== undefined;

/** The app lives in src/app; the tests see the whole project. */
export default defineConfig({
  root: underTest ? '.' : 'src/app',
  base: './',
  plugins: underTest
    ? []
    : [
        react(),
        licences(import.meta.dirname),
        VitePWA({
          registerType: 'autoUpdate',
          injectRegister: 'script-defer',
          includeAssets: ['icon.svg'],
          manifest: {
            name: 'Lugwright',
            short_name: 'Lugwright',
            description: 'Plans lifting lugs welded on a curved hull under water.',
            display: 'standalone',
            background_color: '#081a21',
            theme_color: '#0d2a34',
            icons: [{ src: 'icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' }],
          },
          workbox: {
            globPatterns: ['**/*.{js,css,html,svg,wasm,ttf,csv,json}'],
            maximumFileSizeToCacheInBytes: 12_000_000,
            cleanupOutdatedCaches: true,
            clientsClaim: true,
            skipWaiting: true,
          },
        }),
      ],
  worker: { format: 'es' },
  server: { host: '127.0.0.1', fs: { allow: ['../..'] } },
  preview: { host: '127.0.0.1' },
  build: { outDir: '../../dist/app', emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 1200 },
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    testTimeout: 30_000,
    hookTimeout: 120_000,
  },
});
