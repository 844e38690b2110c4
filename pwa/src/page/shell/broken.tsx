// When a screen breaks: says so, loses nothing, and offers ways on.
import { Component, type ComponentChildren } from 'preact';
import { Button, Notice } from '../look';
import { t } from '../words';

type Props = { readonly children: ComponentChildren; readonly at: string };
type State = { readonly error: Error | null; readonly at: string };

export class Guard extends Component<Props, State> {
  override state: State = { error: null, at: this.props.at };

  static override getDerivedStateFromError(error: Error): Partial<State> {
    return { error };
  }

  static override getDerivedStateFromProps(props: Props, state: State): Partial<State> | null {
    return props.at === state.at ? null : { error: null, at: props.at };
  }

  override componentDidCatch(error: Error): void {
    console.error(error);
  }

  override render() {
    return this.state.error ? <BrokenScreen error={this.state.error} onRetry={() => this.setState({ error: null })} /> : this.props.children;
  }
}

export function BrokenScreen({ error, onRetry }: { readonly error: Error; readonly onRetry: () => void }) {
  return (
    <section class="look-screen">
      <h1 tabIndex={-1} data-screen-title>{t('shell.broken.title')}</h1>
      <Notice title={t('shell.broken.safe')}>
        <p>{t('shell.broken.words')}</p>
        <p class="soft">{error.message}</p>
        <div class="actions">
          <Button kind="main" onPress={onRetry}>{t('shell.tryAgain')}</Button>
          <Button onPress={() => location.reload()}>{t('shell.reload')}</Button>
          <a class="look-button look-button-plain" href="#/jobs">{t('shell.way.jobs')}</a>
        </div>
      </Notice>
    </section>
  );
}
