import { defineConfig } from '@playwright/test';
import tests from '../playwright.config.ts';

export default defineConfig(tests, {
  testDir: '.',
  testMatch: '*.pictures.ts',
  outputDir: '../../test-results',
});
