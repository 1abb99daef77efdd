//! Asking the program. Every answer is typed by `wire.ts`; every refusal becomes a `Refused` with its words.

/** What the program said when it did not do what was asked. */
export class Refused extends Error {
  override name = "Refused";
  constructor(
    readonly status: number,
    message: string,
    readonly hint: string | null,
    readonly version: number | null,
  ) {
    super(message);
  }
}

/** The program could not be reached at all. */
export class Away extends Error {
  override name = "Away";
  constructor() {
    super("The bench's program does not answer");
  }
}

/** How this tab calls itself. */
export const tab = `tab-${Math.random().toString(36).slice(2, 10)}`;

/** The name of a build in an address: the opened folder itself is ".", which no address can carry. */
export const inAddress = (id: string): string => (id === "." ? "here" : encodeURIComponent(id));

/** An address of a build's own. */
export const of = (id: string, rest: string): string => `/api/builds/${inAddress(id)}${rest === "" ? "" : `/${rest}`}`;

async function answer(path: string, init: RequestInit): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(path, init);
  } catch (error) {
    if (init.signal?.aborted) throw error;
    throw new Away();
  }
  if (response.ok) return response;
  let said: { error?: string; hint?: string | null; version?: number | null } = {};
  try {
    said = await response.json();
  } catch {
    // A refusal without words of its own: the status has to do.
  }
  const words = said.error ?? `The program answered ${response.status}`;
  throw new Refused(response.status, words, said.hint ?? null, said.version ?? null);
}

export async function get<T>(path: string, signal?: AbortSignal): Promise<T> {
  const response = await answer(path, signal ? { signal } : {});
  return (await response.json()) as T;
}

export async function getText(path: string): Promise<string> {
  return (await answer(path, {})).text();
}

export async function post<T>(path: string, body: unknown, signal?: AbortSignal): Promise<T> {
  const init: RequestInit = {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  };
  if (signal) init.signal = signal;
  const response = await answer(path, init);
  const text = await response.text();
  return (text === "" ? null : JSON.parse(text)) as T;
}

export async function postFile<T>(path: string, file: Blob): Promise<T> {
  const init = { method: "POST", headers: { "content-type": file.type }, body: file };
  return (await (await answer(path, init)).json()) as T;
}
