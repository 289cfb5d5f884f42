// Registers the service worker and says when a newer version of the application waits to take over.
import { useSyncExternalStore } from 'react';

let waiting: ServiceWorker | null = null;
const listeners = new Set<() => void>();

function show(worker: ServiceWorker | null) {
  waiting = worker;
  for (const listener of listeners) listener();
}

export async function registerServiceWorker(): Promise<void> {
  if (!('serviceWorker' in navigator)) return;
  const registration = await navigator.serviceWorker.register('/service-worker.js');
  // The first one has nobody to take over from.
  const look = () => {
    if (registration.waiting && navigator.serviceWorker.controller) show(registration.waiting);
  };
  look();
  registration.addEventListener('updatefound', () =>
    registration.installing?.addEventListener('statechange', look),
  );
  // A phone keeps a page open for weeks.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void registration.update().catch(() => undefined);
  });
}

// On the person's word only.
export function takeNewer(): void {
  navigator.serviceWorker.addEventListener('controllerchange', () => window.location.reload());
  waiting?.postMessage('take over');
}

export function useNewerVersion(): boolean {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => waiting !== null,
  );
}
