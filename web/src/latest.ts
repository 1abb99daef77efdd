//! Asking for something that changes faster than it can be fetched: one question is under way, at most one
//! waits, and a question that has been overtaken is never sent.

export class Latest<T> {
  private busy = false;
  private next: (() => Promise<T>) | null = null;

  constructor(
    private readonly then: (value: T) => void,
    private readonly otherwise: (error: unknown) => void = () => {},
  ) {}

  ask(question: () => Promise<T>): void {
    if (this.busy) {
      this.next = question;
      return;
    }
    this.busy = true;
    question()
      .then(this.then, this.otherwise)
      .finally(() => {
        this.busy = false;
        const next = this.next;
        this.next = null;
        if (next) this.ask(next);
      });
  }
}
