//! Connections: taken in, told whose they are, and closed when nobody asks anything on them.

use axum::Router;
use axum::body::Body;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::future::Future;
use std::net::IpAddr;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::watch;
use tokio::task::JoinSet;
use tower::ServiceExt as _;

/// What is still being answered may take so long once the server is to stop.
const PATIENCE: Duration = Duration::from_millis(500);
/// Nothing can be taken in for the moment, as where too many files are open.
const PAUSE: Duration = Duration::from_millis(200);

/// Who is at the other end of a connection.
#[derive(Debug, Clone, Copy)]
pub struct Peer(pub IpAddr);

/// Answers what comes in at `listener` until `until` is over. A connection on which no whole request head comes for
/// `idle` is closed.
pub async fn listen(
    listener: TcpListener,
    router: Router,
    idle: Duration,
    until: impl Future<Output = ()>,
) {
    let (going, over) = watch::channel(());
    let mut connections = JoinSet::new();
    tokio::pin!(until);
    loop {
        tokio::select! {
            () = &mut until => break,
            Some(_) = connections.join_next() => {}
            taken = listener.accept() => match taken {
                Ok((stream, from)) => {
                    connections.spawn(serve(stream, Peer(from.ip()), router.clone(), idle, over.clone()));
                }
                Err(_) => tokio::time::sleep(PAUSE).await,
            },
        }
    }
    drop(going);
    let all = async { while connections.join_next().await.is_some() {} };
    // Streams of progress never end by themselves.
    let _ = tokio::time::timeout(PATIENCE, all).await;
}

async fn serve(
    stream: TcpStream,
    peer: Peer,
    router: Router,
    idle: Duration,
    mut over: watch::Receiver<()>,
) {
    let service = router.map_request(move |request: hyper::Request<Incoming>| {
        let mut request = request.map(Body::new);
        request.extensions_mut().insert(peer);
        request
    });
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(idle)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(service));
    tokio::pin!(connection);
    // How a connection ends is the other end's business.
    tokio::select! {
        _ = connection.as_mut() => {}
        _ = over.changed() => {
            connection.as_mut().graceful_shutdown();
            let _ = connection.await;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::extract::Extension;
    use axum::routing::get;
    use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};

    #[tokio::test]
    async fn a_connection_without_a_request_is_closed_and_a_slow_answer_is_not() {
        let slow = |Extension(Peer(from)): Extension<Peer>| async move {
            tokio::time::sleep(Duration::from_millis(600)).await;
            from.to_string()
        };
        let router = Router::new().route("/", get(slow));
        let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
        let address = listener.local_addr().expect("bound");
        let idle = Duration::from_millis(200);
        let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
        let server = tokio::spawn(listen(listener, router, idle, async {
            let _ = stopped.await;
        }));
        for sent in ["", "GET / HT", "GET / HTTP/1.1\r\nHost: x\r\n\r\n"] {
            let mut stream = TcpStream::connect(address).await.expect("connected");
            stream.write_all(sent.as_bytes()).await.expect("sent");
            let mut said = String::new();
            let read = stream.read_to_string(&mut said);
            let ended = tokio::time::timeout(Duration::from_secs(5), read).await;
            ended.expect("closed").expect("read");
            assert_eq!(said.ends_with("127.0.0.1"), sent.contains("Host"), "{said}");
        }
        drop(stop);
        let over = tokio::time::timeout(Duration::from_secs(2), server).await;
        over.expect("stopped").expect("no panic");
    }
}
