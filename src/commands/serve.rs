//! `tympan serve`: the web server and the letter worker, until a signal asks it to stop.

use std::net::TcpListener;
use std::sync::Arc;
use std::time::Duration;

use actix_web::web;
use tokio::sync::watch;

use crate::clock::Clock;
use crate::commands::foundation::{build_house, build_post, sentence, start_log};
use crate::commands::setup::set_up_address;
use crate::pages::proofs::cleaning;
use crate::pages::{House, server};
use crate::post::runner::Post;
use crate::settings::Settings;

/// Serves until SIGTERM or SIGINT; what is in flight gets 30 seconds.
///
/// # Errors
/// A sentence for the console.
pub fn run() -> Result<(), String> {
    let settings = Settings::from_environment()?;
    start_log(&settings.log);
    let listener = listen(&settings)?;
    let house = build_house(settings, Clock::Machine)?;
    serve(house, listener)
}

/// Binds the address of the settings.
///
/// # Errors
/// A sentence for the console.
pub fn listen(settings: &Settings) -> Result<TcpListener, String> {
    TcpListener::bind(settings.listen)
        .map_err(|error| format!("Setting TYMPAN_LISTEN: listening on {} failed: {error}.", settings.listen))
}

/// Runs the server over a house on a bound listener.
///
/// # Errors
/// A sentence for the console.
pub fn serve(house: House, listener: TcpListener) -> Result<(), String> {
    let workers = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let post = Arc::new(build_post(&house)?);
    let house = web::Data::new(house);
    actix_web::rt::System::new().block_on(async move {
        match set_up_address(&house).await {
            Ok(Some(address)) => {
                eprintln!(
                    "Nobody is here yet. Open this address to make the school; it works once:\n{address}"
                );
            }
            Ok(None) => {}
            Err(trouble) => return Err(sentence(trouble)),
        }
        let (swept, listeners) = (house.clone(), house.listeners.clone());
        let server = server::serve(house, listener, workers)
            .map_err(|error| format!("Starting the server: {error}"))?;
        let (stop, stopped) = watch::channel(false);
        let letters = actix_web::rt::spawn(deliver(post, stopped.clone()));
        let sweeping = actix_web::rt::spawn(cleaning::daily(swept, stopped));
        let handle = server.handle();
        actix_web::rt::spawn(async move {
            wait_for_signal().await;
            tracing::info!("stopping: no new requests, those in flight are finished");
            listeners.close();
            handle.stop(true).await;
        });
        let served = server.await.map_err(|error| format!("Serving: {error}"));
        stop.send_replace(true);
        if let Err(error) = letters.await {
            tracing::error!(%error, "stopping the letters");
        }
        if let Err(error) = sweeping.await {
            tracing::error!(%error, "stopping the sweep of the photo shelf");
        }
        served
    })
}

/// Keeps the letters going until told to stop, whatever one of them does.
async fn deliver(post: Arc<Post>, stopped: watch::Receiver<bool>) {
    loop {
        let (post, hears) = (post.clone(), stopped.clone());
        match actix_web::rt::spawn(async move { post.run(hears).await }).await {
            Ok(()) => return,
            Err(error) => tracing::error!(%error, "the letters broke off and are taken up again"),
        }
        tokio::time::sleep(Duration::from_secs(30)).await;
    }
}

async fn wait_for_signal() {
    use tokio::signal::unix::{SignalKind, signal};
    let (Ok(mut term), Ok(mut int)) = (signal(SignalKind::terminate()), signal(SignalKind::interrupt()))
    else {
        std::future::pending::<()>().await;
        return;
    };
    tokio::select! {
        _ = term.recv() => {}
        _ = int.recv() => {}
    }
}
