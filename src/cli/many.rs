//! Work on many inputs at once, with what came of it in the order of the inputs.

use std::collections::BTreeMap;
use std::sync::mpsc;

use super::Failure;

/// So few are worked on one by one: starting threads would take longer than they save.
const FEW: usize = 4;

/// How many results may wait for an earlier one, for each thread. Bounds what is in memory at once.
const WAITING_PER_THREAD: usize = 4;

/// As much as a program's first thread has, on which deep recipes are known to be read.
const STACK: usize = 8 << 20;

/// Does `work` on all `inputs`, on all cores when there are many, and hands each result to `take` in order.
///
/// # Errors
/// The first of `take`; nothing is taken after it.
pub(super) fn each_in_order<I: Sync, T: Send>(
    inputs: &[I],
    work: impl Fn(&I) -> T + Sync,
    mut take: impl FnMut(T) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let one_by_one =
        |take: &mut dyn FnMut(T) -> Result<(), Failure>| inputs.iter().try_for_each(|input| take(work(input)));
    if inputs.len() <= FEW {
        return one_by_one(&mut take);
    }
    // Where no threads can be had, the work is done all the same.
    let Ok(pool) = rayon::ThreadPoolBuilder::new().stack_size(STACK).build() else {
        return one_by_one(&mut take);
    };
    let threads = pool.current_num_threads();
    if threads <= 1 {
        return one_by_one(&mut take);
    }
    let window = threads * WAITING_PER_THREAD;
    pool.in_place_scope(|scope| {
        let (done, results) = mpsc::channel();
        let mut early = BTreeMap::new();
        let mut started = 0;
        for next in 0..inputs.len() {
            while started < inputs.len().min(next + window) {
                let (at, slot, work) = (started, Slot(done.clone(), started, None), &work);
                scope.spawn(move |_| slot.fill(work(&inputs[at])));
                started += 1;
            }
            let result = loop {
                if let Some(result) = early.remove(&next) {
                    break result;
                }
                match results.recv() {
                    Ok((at, result)) => early.insert(at, result),
                    Err(_) => break None,
                };
            };
            match result {
                Some(result) => take(result)?,
                // A worker stopped where it stood; the scope passes that on.
                None => break,
            }
        }
        Ok(())
    })
}

/// Where one result goes. It is sent even when the work came to no end, so that nobody waits for ever.
struct Slot<T>(mpsc::Sender<(usize, Option<T>)>, usize, Option<T>);

impl<T> Slot<T> {
    fn fill(mut self, result: T) {
        self.2 = Some(result);
    }
}

impl<T> Drop for Slot<T> {
    fn drop(&mut self) {
        // Nobody listens any more when the run was broken off.
        let _ = self.0.send((self.1, self.2.take()));
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::thread;
    use std::time::Duration;

    use super::each_in_order;
    use crate::cli::Failure;

    #[test]
    fn results_come_in_the_order_of_the_inputs() {
        let inputs: Vec<u64> = (0..200).collect();
        let mut taken = Vec::new();
        let work = |input: &u64| {
            thread::sleep(Duration::from_micros((200 - input) * 7 % 300));
            *input
        };
        let ended = each_in_order(&inputs, work, |result| {
            taken.push(result);
            Ok(())
        });
        assert!(ended.is_ok());
        assert_eq!(taken, inputs);
    }

    #[test]
    fn no_more_than_a_few_results_wait() {
        let (made, inputs) = (AtomicUsize::new(0), vec![(); 500]);
        let mut taken = 0;
        let most = 4 * thread::available_parallelism().map_or(1, usize::from).max(2);
        let ended = each_in_order(
            &inputs,
            |()| made.fetch_add(1, Ordering::SeqCst),
            |_| {
                thread::sleep(Duration::from_micros(50));
                taken += 1;
                assert!(made.load(Ordering::SeqCst) <= taken + most, "{taken}");
                Ok(())
            },
        );
        assert!(ended.is_ok());
    }

    #[test]
    fn nothing_is_taken_after_a_failure() {
        for count in [3, 300] {
            let mut taken = 0;
            let ended = each_in_order(
                &vec![(); count],
                |()| (),
                |()| {
                    taken += 1;
                    if taken == 2 { Err(Failure::NoName { path: String::new(), why: None }) } else { Ok(()) }
                },
            );
            assert!(ended.is_err());
            assert_eq!(taken, 2);
        }
    }
}
