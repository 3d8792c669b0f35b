//! Many pieces of work by several hands, delivered in order.

use std::collections::VecDeque;
use std::io;
use std::sync::Mutex;
use std::sync::mpsc::{self, SyncSender};
use std::thread;

/// Pieces for each hand that are under way, or done and waiting for their turn.
const WAITING: usize = 4;

/// Room for a hand's calls, in bytes: as much as a program's first thread usually has, so that no
/// plan is too deep for one that was not for the other. Only what is used of it is taken.
const STACK: usize = 8 * 1024 * 1024;

/// Does every piece, `hands` at a time, and delivers what came of them in the order of the pieces.
/// `tools` makes what one hand keeps from piece to piece. However many pieces there are, no more
/// than a fixed number for each hand wait.
///
/// # Errors
/// Those of `deliver`; nothing is delivered after one.
pub fn in_order<P: Sync, T, D: Send>(
    pieces: &[P],
    hands: usize,
    tools: impl Fn() -> T + Sync,
    work: impl Fn(&mut T, &P) -> D + Sync,
    mut deliver: impl FnMut(D) -> io::Result<()>,
) -> io::Result<()> {
    let (give, given) = mpsc::channel::<(&P, SyncSender<D>)>();
    let given = Mutex::new(given);
    let hand = || {
        let mut tools = tools();
        loop {
            let next = given.lock().map(|given| given.recv());
            let Ok(Ok((piece, done))) = next else { return };
            // Nobody waits for it any more once delivering has failed.
            let _ = done.send(work(&mut tools, piece));
        }
    };
    thread::scope(|scope| {
        let give = give;
        let started = (0..hands)
            .filter(|_| {
                let thread = thread::Builder::new().stack_size(STACK);
                thread.spawn_scoped(scope, hand).is_ok()
            })
            .count();
        if started == 0 {
            let mut tools = tools();
            return pieces
                .iter()
                .try_for_each(|piece| deliver(work(&mut tools, piece)));
        }
        let mut pieces = pieces.iter();
        let mut waiting = VecDeque::with_capacity(started * WAITING);
        loop {
            while waiting.len() < started * WAITING
                && let Some(piece) = pieces.next()
            {
                let (done, came) = mpsc::sync_channel(1);
                give.send((piece, done)).map_err(|_| stopped())?;
                waiting.push_back(came);
            }
            let Some(came) = waiting.pop_front() else {
                return Ok(());
            };
            deliver(came.recv().map_err(|_| stopped())?)?;
        }
    })
}

/// A hand has panicked; the scope passes that on as soon as the others are done.
fn stopped() -> io::Error {
    io::Error::other("a review has stopped short")
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};

    use super::*;

    #[test]
    fn pieces_come_in_order_whoever_is_first() {
        let pieces: Vec<u64> = (0..200).collect();
        for hands in [0, 1, 2, 7] {
            let mut came = Vec::new();
            let slow_first = |_: &mut (), piece: &u64| {
                let spin = if piece.is_multiple_of(5) { 20_000 } else { 10 };
                (0..spin).fold(*piece, |sum, n| sum ^ std::hint::black_box(n));
                *piece
            };
            let done = in_order(
                &pieces,
                hands,
                || (),
                slow_first,
                |piece| {
                    came.push(piece);
                    Ok(())
                },
            );
            assert!(done.is_ok());
            assert_eq!(came, pieces, "{hands} hands");
        }
    }

    #[test]
    fn only_so_many_wait() {
        let (begun, delivered, most) = (
            AtomicUsize::new(0),
            AtomicUsize::new(0),
            AtomicUsize::new(0),
        );
        let work = |_: &mut (), _: &usize| {
            let ahead = begun.fetch_add(1, Ordering::SeqCst) - delivered.load(Ordering::SeqCst);
            most.fetch_max(ahead, Ordering::SeqCst);
        };
        let pieces: Vec<usize> = (0..500).collect();
        let done = in_order(
            &pieces,
            3,
            || (),
            work,
            |()| {
                thread::yield_now();
                delivered.fetch_add(1, Ordering::SeqCst);
                Ok(())
            },
        );
        assert!(done.is_ok());
        assert_eq!(delivered.into_inner(), pieces.len());
        assert!(most.into_inner() <= 3 * WAITING);
    }

    #[test]
    fn delivering_stops_at_the_first_error() {
        let pieces: Vec<usize> = (0..100).collect();
        let mut came = 0;
        let done = in_order(
            &pieces,
            2,
            || (),
            |(), piece| *piece,
            |piece| {
                came += 1;
                if piece == 5 {
                    return Err(io::ErrorKind::StorageFull.into());
                }
                Ok(())
            },
        );
        assert_eq!(
            done.map_err(|error| error.kind()),
            Err(io::ErrorKind::StorageFull)
        );
        assert_eq!(came, 6);
    }
}
