import type { Page } from '@playwright/test';

export type Part = { name: string; bytes: number };
export function weigh(page: Page, address: string): Promise<Part[]>;
export function total(parts: readonly Part[]): number;
