/* Which light? The runs on this phone, each with where it stands; a new one; and bringing answers back. */
"use strict";

class LightsScreen {
  constructor(page) {
    this.page = page;
    this.runs = [];
    page.on("new-light", () => this.#begin(Runs.nextLetter(this.runs)));
    page.on("open-pasted", () => this.#openPasted());
    Dom.field("file").addEventListener("change", (event) => this.#openFile(event.target));
  }

  /* `linked` is the step that a link asked for, if one did. */
  async fill(linked = null) {
    this.linked = linked;
    this.runs = await this.page.runs.list();
    const letter = Runs.nextLetter(this.runs);
    Dom.show("about", this.runs.length === 0);
    Dom.say("new-light", this.runs.length ? `Another light: ${letter}` : `Begin with light ${letter}`);
    Dom.list("lights").replaceChildren(...this.runs.map((run) => this.#choice(run)));
    Dom.list("removable").replaceChildren(...this.runs.map((run) => this.#removable(run)));
    this.#tellUnread();
    const asked = linked && this.page.data.steps[linked].title;
    const link = asked && `You came by a link to: ${asked} Say which light it is for.`;
    Dom.tell("lights-notice", [this.#paper(), link].filter(Boolean).join(" "));
  }

  /* A printed sheet carries its version in the address. */
  #paper() {
    const printed = new URL(location.href).searchParams.get("v");
    const { version } = this.page.data.tree;
    if (!printed || printed === version) return "";
    return `Your sheet is of version ${Checked.line(printed, 20)}; this guide has ${version}. Print it anew.`;
  }

  #choice(run) {
    const again = this.linked && run.ended;
    const act = () => (again ? this.#begin(LightsScreen.#again(run, this.runs)) : this.#choose(run, this.linked));
    const changed = run.changed ? ` (${Finding.day(run.changed)})` : "";
    const looks = again ? `${run.label}. It is walked anew from here, and kept as it was.` : run.label + changed;
    return Dom.choice(again ? `Light ${run.light}, anew` : `Light ${run.light}`, looks, act);
  }

  /* "B", walked anew, is "B 2". */
  static #again(run, runs) {
    const [letter] = run.light.split(" ");
    const taken = new Set(runs.map((each) => each.light));
    let round = 2;
    while (taken.has(`${letter} ${round}`)) round += 1;
    return `${letter} ${round}`;
  }

  #begin(light) {
    const { data, now } = this.page;
    const run = Walk.begin(data, Runs.newId(), light, now(), this.linked ?? undefined);
    this.#choose(run, null);
  }

  /* The first tap that matters: the browser is asked to keep what follows. */
  #choose(run, linked) {
    this.page.kept.ask();
    this.page.resume(run, { linked });
  }

  #removable(run) {
    const said = Dom.make("p", "", `Light ${run.light}: ${Dom.count(run.entries.length, "answer")}`);
    return Dom.make("li", "", said, this.#remove(`Remove light ${run.light}`, () => this.page.forget(run)));
  }

  /* Removes for good, after a second tap. */
  #remove(word, act) {
    const remove = Dom.button(word, "button button--quiet", () => {
      const sure = Dom.button("Yes, remove these answers for good", "button", async () => {
        const gone = await act().then(() => true, () => false);
        await this.fill(this.linked);
        Dom.tell("bring-fault", gone ? null : "This phone would not remove them. Clear the browser's data for this site.");
      });
      remove.replaceWith(sure);
      sure.focus();
    });
    return remove;
  }

  /* What could not be read stands apart, and no other light suffers by it. */
  #tellUnread() {
    const { unread } = this.page.runs;
    const count = Dom.count(unread.length, "light");
    Dom.tell("unread", unread.length ? `Set aside: the answers of ${count} on this phone cannot be read here.` : null);
    Dom.list("unread").replaceChildren(...unread.map((each) => this.#unread(each)));
  }

  #unread({ key, value, why }) {
    const name = typeof value?.light === "string" ? `Light ${Checked.line(value.light, 40)}. ` : "";
    const save = Dom.button("Save it as a file", "button button--quiet", () =>
      Saved.file("set-aside.json", JSON.stringify(value, null, 2)),
    );
    const remove = this.#remove("Remove it", () => this.page.runs.remove(key));
    return Dom.make("li", "", Dom.make("p", "", `${name}${why} They are left as they are.`), save, remove);
  }

  #openPasted() {
    /* A message may stand round it. */
    const fragment = /#\S*/.exec(Dom.field("pasted").value)?.[0] ?? "";
    const found = Links.unwrap(fragment);
    Dom.tell("bring-fault", found ? null : "This is not a link from a walk. Copy the whole link, to its end.");
    if (found) this.page.incoming.open(found);
  }

  async #openFile(field) {
    const text = await field.files[0]?.text().catch(() => "");
    /* So that the same file, mended, can be chosen again. */
    field.value = "";
    if (text === undefined) return;
    try {
      this.page.incoming.offer(Record.fromFile(text));
      Dom.tell("bring-fault", null);
    } catch (error) {
      const why = error instanceof Record.OtherFormat ? error.message : "It holds no answers of a walk, or was cut off.";
      Dom.tell("bring-fault", `This file was not taken over. ${why}`);
    }
  }
}
