/* A page opened from a folder may not start a worker from a file, but may from text. The list of the search, which the
   theme loads before its first message, brings the search's script as the text `searchScript`. */
"use strict";

if (location.protocol === "file:") {
  const WorkerOfText = window.Worker;

  /* A channel stands for the worker and keeps what is sent until there is one. */
  window.Worker = function () {
    const { port1: theme, port2: search } = new MessageChannel();
    search.onmessage = ({ data: first }) => {
      const address = URL.createObjectURL(new Blob([window.searchScript], { type: "text/javascript" }));
      const worker = new WorkerOfText(address);
      worker.onmessage = ({ data }) => search.postMessage(data);
      search.onmessage = ({ data }) => worker.postMessage(data);
      worker.postMessage(first);
    };
    theme.start();
    return theme;
  };
}
