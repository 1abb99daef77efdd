//! The stream of events, shared by everything on the page, and whether the program is there at all.
import { signal } from "@preact/signals";
import type {
  BookEvent,
  Changed,
  ConflictEvent,
  Hello,
  Outside,
  Planned,
  Unsaved,
} from "./wire.ts";

/** Whether the stream is open. False from a lost connection until it is back. */
export const connected = signal(true);

export interface Events {
  hello: Hello;
  changed: Changed;
  planned: Planned;
  outside: Outside;
  conflict: ConflictEvent;
  unsaved: Unsaved;
  book: BookEvent;
  folder: Record<string, never>;
}

const NAMES = ["hello", "changed", "planned", "outside", "conflict", "unsaved", "book", "folder"] as const;
type Listener<K extends keyof Events> = (data: Events[K]) => void;
const listeners: { [K in keyof Events]: Set<Listener<K>> } = {
  hello: new Set(),
  changed: new Set(),
  planned: new Set(),
  outside: new Set(),
  conflict: new Set(),
  unsaved: new Set(),
  book: new Set(),
  folder: new Set(),
};

/** Calls `then` for each event of that name, until the returned function is called. */
export function on<K extends keyof Events>(name: K, then: Listener<K>): () => void {
  listeners[name].add(then);
  return () => listeners[name].delete(then);
}

function heard<K extends keyof Events>(name: K, data: Events[K]): void {
  for (const then of [...listeners[name]]) then(data);
}

/** Opens the stream. A browser reconnects by itself unless the refusal was final; then we do. */
export function listen(): void {
  const stream = new EventSource("/api/events");
  stream.onopen = () => {
    connected.value = true;
  };
  stream.onerror = () => {
    connected.value = false;
    if (stream.readyState === EventSource.CLOSED) setTimeout(listen, 1000);
  };
  for (const name of NAMES) {
    stream.addEventListener(name, (event) => {
      heard(name, JSON.parse((event as MessageEvent<string>).data));
    });
  }
}
