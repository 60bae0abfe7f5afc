import { defineConfig } from '@playwright/test';
import { foundChromium } from './support/find-chromium.ts';

const executablePath = process.env.CHROMIUM_PATH || foundChromium();

export default defineConfig({
  testDir: './browser',
  outputDir: '../test-results',
  // Each file starts a server of its own.
  fullyParallel: false,
  workers: 2,
  forbidOnly: true,
  retries: 0,
  reporter: 'list',
  use: {
    locale: 'en-US',
    actionTimeout: 15_000,
    launchOptions: executablePath ? { executablePath } : {},
  },
});
