/** A place in the browser that outlives a reload. Private windows may refuse it; then what is typed lives as long as the page. */
export function keptIn<T>(key: string): { read(): T | null; write(value: T | null): void } {
  return {
    read() {
      try {
        const text = localStorage.getItem(key);
        return text === null ? null : (JSON.parse(text) as T);
      } catch {
        return null;
      }
    },
    write(value) {
      try {
        if (value === null) localStorage.removeItem(key);
        else localStorage.setItem(key, JSON.stringify(value));
      } catch {
        // Full or forbidden: the page itself still holds it.
      }
    },
  };
}
