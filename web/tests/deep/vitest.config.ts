import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: { include: ['tests/deep/**/*.test.ts'], testTimeout: 180000, hookTimeout: 60000, fileParallelism: false },
});
