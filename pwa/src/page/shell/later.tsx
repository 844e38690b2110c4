// Rooms that are not in the first load. All are fetched as soon as the page stands still, so that a later update
// can't take away a file this page still wants; if one is missing all the same, the person is asked to reload.
import { signal } from '@preact/signals';
import type { VNode } from 'preact';
import { Button, Notice } from '../look';
import { language, loadWords, t } from '../words';

export class Later<Room> {
  private readonly room = signal<Room | null>(null);
  private readonly missing = signal(false);
  private asked: Promise<void> | null = null;

  constructor(private readonly fetchRoom: () => Promise<Room>) {}

  /** Fetches the room and its words, once; after a failure, again. */
  fetch(): Promise<void> {
    this.asked ??= Promise.all([this.fetchRoom(), loadWords(language.peek())]).then(
      ([room]) => {
        this.room.value = room;
        this.missing.value = false;
      },
      (error: unknown) => {
        console.error(error);
        this.asked = null;
        this.missing.value = true;
      },
    );
    return this.asked;
  }

  /** Draws with the room once it is here, and nothing before: for what only adds to a screen. */
  drawIfHere(screen: (room: Room) => VNode): VNode | null {
    const room = this.room.value;
    return room && screen(room);
  }

  /** Draws with the room, or says that it comes, or that it can't. */
  draw(screen: (room: Room) => VNode): VNode {
    const room = this.room.value;
    if (room) return screen(room);
    if (this.missing.value) return <Missing />;
    void this.fetch();
    return <p class="look-screen" role="status">{t('shell.loading')}</p>;
  }
}

function Missing() {
  return (
    <section class="look-screen">
      <Notice tone="warn" title={t('shell.missing.title')}>
        <p>{t('shell.missing.words')}</p>
        <div class="actions"><Button kind="main" onPress={() => location.reload()}>{t('shell.reload')}</Button></div>
      </Notice>
    </section>
  );
}
