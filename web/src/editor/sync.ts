//! Keeps what is typed and what the program holds the same. One text is under way at a time; what is typed meanwhile
//! waits as one; a text that has been overtaken elsewhere is joined with the other's, or someone is asked.
import { joined } from "./diff.ts";

export interface Held {
  version: number;
  text: string;
}

export interface Wire {
  /** Sends a text made from a version; refuses with `moved` where the build has moved on. */
  send(base: number, text: string): Promise<{ version: number } | "moved">;
  /** What the program holds now. */
  fetch(): Promise<Held>;
  /** Puts a text into the editor, cursor and all. */
  put(text: string): void;
  /** Two changes met: `ours` is what was typed, `theirs` what the program holds. */
  met(ours: string, theirs: string): void;
  /** Why a text could not be sent; it is kept and sent again later. */
  failed(error: unknown): void;
}

export class Sync {
  private typed: string | null = null;
  private under: Promise<void> | null = null;
  private stopped = false;

  constructor(
    private held: Held,
    private readonly wire: Wire,
  ) {}

  /** Whether something typed has not been acknowledged. */
  get behind(): boolean {
    return this.typed !== null || this.under !== null;
  }

  /** The editor's text is now this. */
  type(text: string): void {
    if (this.typed === null && this.under === null && text === this.held.text) return;
    this.typed = text;
    if (!this.under) this.run();
  }

  /** Resolves when everything typed has been acknowledged or has failed. */
  async flush(): Promise<void> {
    if (this.typed !== null && !this.under) this.run();
    while (this.under) await this.under;
  }

  /** The program holds another text, from whoever it came. */
  heard(held: Held): void {
    if (held.version <= this.held.version) return;
    if (this.under) return; // Its answer, or a refusal, will tell.
    if (this.typed === null) {
      const same = held.text === this.held.text;
      this.held = held;
      if (!same) this.wire.put(held.text);
    }
  }

  stop(): void {
    this.stopped = true;
  }

  private run(): void {
    this.under = this.round().finally(() => {
      this.under = null;
      if (this.typed !== null && !this.stopped) this.run();
    });
  }

  private async round(): Promise<void> {
    const text = this.typed;
    if (text === null) return;
    this.typed = null;
    try {
      const answer = await this.wire.send(this.held.version, text);
      if (answer === "moved") await this.join(text);
      else this.held = { version: answer.version, text };
    } catch (error) {
      // Kept, and sent with the next keystroke or flush.
      this.stopped = true;
      this.typed ??= text;
      this.wire.failed(error);
    }
  }

  /** After a failure: go on. */
  resume(): void {
    this.stopped = false;
    if (this.typed !== null && !this.under) this.run();
  }

  private async join(sent: string): Promise<void> {
    const theirs = await this.wire.fetch();
    const ours = this.typed ?? sent;
    const both = joined(this.held.text, ours, theirs.text);
    this.held = theirs;
    this.typed = null;
    if (both === null) {
      this.wire.met(ours, theirs.text);
      return;
    }
    this.wire.put(both);
    if (both !== theirs.text) this.typed = both;
  }
}
