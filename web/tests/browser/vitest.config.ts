import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: { include: ['tests/browser/**/*.test.ts'], testTimeout: 180000, hookTimeout: 60000, fileParallelism: false },
});
