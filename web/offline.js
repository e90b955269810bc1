// Keeps the app on the device, and offers a new version without forcing it on anybody.

const BUILD = "%BUILD%";

const bar = document.getElementById("update");
let restarting = false;

// Registers the service worker, at every start, as browsers may drop it on their own. `tell` says on
// the first screen how far it is.
export async function keepForOffline(tell) {
  const workers = navigator.serviceWorker;
  if (!workers) {
    tell("This browser cannot keep the app, so it needs the network to start.");
    return;
  }
  tell("The app is still being put on this device. Stay on the network for a moment.");
  workers.ready.then(async ({ active }) => {
    const rest = await isAllKept(active);
    tell(
      rest
        ? "The app is kept on this device: it opens without a network."
        : "The app is kept on this device and opens without a network. Printing, scanning, the guide and the demo job are not here yet: open it on the network once more.",
    );
  });
  let controlled = workers.controller !== null;
  workers.addEventListener("message", tellBuild);
  workers.addEventListener("controllerchange", () => {
    if (restarting) {
      restarting = false;
      location.reload();
    } else if (!controlled) {
      // The first version has taken over the page that brought it.
      controlled = true;
    } else {
      // Another tab restarted into the new version. This one goes on until its person says so.
      offer(() => location.reload());
    }
  });
  workers.startMessages();
  const registration = await workers.register("./sw.js", { updateViaCache: "none" });
  watch(registration);
  registration.active?.postMessage("TIDY");
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") {
      lookForUpdate(registration);
    }
  });
  await lookForUpdate(registration);
}

// Whether what is kept beside the app is there too.
function isAllKept(worker) {
  return new Promise((answer) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = ({ data }) => answer(data);
    worker.postMessage("KEPT", [channel.port2]);
  });
}

// The service worker asks which build a page runs before it deletes files of older builds.
function tellBuild(event) {
  if (event.data === "WHICH_BUILD") {
    event.ports[0]?.postMessage(BUILD);
  }
}

async function lookForUpdate(registration) {
  try {
    await registration.update();
  } catch {
    // Without a network there is nothing new to be had, and that is no trouble.
  }
}

function watch(registration) {
  const offerWaiting = () => {
    if (registration.waiting && registration.active) {
      offer(() => restartInto(registration));
    }
  };
  const follow = (coming) => coming?.addEventListener("statechange", offerWaiting);
  offerWaiting();
  follow(registration.installing);
  registration.addEventListener("updatefound", () => follow(registration.installing));
}

function restartInto(registration) {
  // The app gets the chance to save what is being typed.
  dispatchEvent(new Event("bothends:restarting"));
  if (registration.waiting) {
    restarting = true;
    registration.waiting.postMessage("SKIP_WAITING");
  } else {
    location.reload();
  }
}

function offer(restart) {
  if (!bar) {
    return;
  }
  bar.querySelector("button").onclick = restart;
  bar.hidden = false;
}
