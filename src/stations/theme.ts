import { signal } from '@preact/signals-core';

/** Ground of the page: as the system says, or as chosen here. */
export type Theme = 'system' | 'light' | 'dark';

const KEY = 'offcentre.theme';

function kept(): Theme {
  try {
    const text = localStorage.getItem(KEY);
    return text === 'light' || text === 'dark' ? text : 'system';
  } catch {
    return 'system';
  }
}

const dark = matchMedia('(prefers-color-scheme: dark)');

export const theme = signal<Theme>(kept());
/** What is in force, after the system was asked. */
export const scheme = signal<'light' | 'dark'>('light');

function apply(): void {
  const choice = theme.peek();
  if (choice === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = choice;
  scheme.value = choice === 'system' ? (dark.matches ? 'dark' : 'light') : choice;
}

/** Chooses the ground and remembers it. */
export function chooseTheme(choice: Theme): void {
  theme.value = choice;
  try {
    if (choice === 'system') localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, choice);
  } catch {
    // Without storage the choice holds until the page is closed.
  }
  apply();
}

dark.addEventListener('change', apply);
apply();
