//! Keeps a fault in one part of the page from taking the rest with it.
import { Component, type ComponentChildren } from "preact";

export class Catch extends Component<{ children: ComponentChildren }, { error: Error | null }> {
  override state = { error: null as Error | null };
  static override getDerivedStateFromError(error: Error) {
    return { error };
  }
  override render() {
    const { error } = this.state;
    if (!error) return this.props.children;
    return (
      <div class="trouble" role="alert">
        <p>
          <b>This part of the page met a fault.</b> The rest of the bench goes on and nothing that was saved is lost.
        </p>
        <p class="mono">{error.message}</p>
        <button type="button" onClick={() => this.setState({ error: null })}>
          Try again
        </button>
      </div>
    );
  }
}
