//! What has come in and is not handled yet; what is canceled before its turn never is.

use std::collections::VecDeque;
use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError};
use std::time::Duration;

use gen_lsp_types::CancelParams;
use lsp_server::{Message, RequestId};

use super::wire::Incoming;

/// Messages in the order they came.
pub(super) struct Inbox {
    stream: Receiver<Incoming>,
    waiting: VecDeque<Incoming>,
    canceled: Vec<RequestId>,
}

/// What there is to do.
pub(super) enum Next {
    /// This came.
    Incoming(Incoming),
    /// Nothing came for as long as was waited.
    Quiet,
    /// Nothing will come any more.
    Closed,
}

impl Inbox {
    pub(super) fn new(stream: Receiver<Incoming>) -> Self {
        Self { stream, waiting: VecDeque::new(), canceled: Vec::new() }
    }

    /// Takes in all that has come, without waiting.
    fn look(&mut self) {
        loop {
            match self.stream.try_recv() {
                Ok(incoming) => self.put(incoming),
                Err(TryRecvError::Empty | TryRecvError::Disconnected) => return,
            }
        }
    }

    fn put(&mut self, incoming: Incoming) {
        let canceled = canceled_id(&incoming).and_then(|id| {
            let is_it = |waiting: &Incoming| matches!(waiting, Incoming::Message(Message::Request(it)) if it.id == id);
            let at = self.waiting.iter().position(is_it)?;
            self.waiting.remove(at)?;
            Some(id)
        });
        match canceled {
            Some(id) => self.canceled.push(id),
            None => self.waiting.push_back(incoming),
        }
    }

    /// Requests that were canceled while they waited; they are still to be answered.
    pub(super) fn canceled(&mut self) -> Vec<RequestId> {
        self.look();
        std::mem::take(&mut self.canceled)
    }

    /// Whether nothing has come that is not handled.
    pub(super) fn is_empty(&mut self) -> bool {
        self.look();
        self.waiting.is_empty()
    }

    /// The next message; waits for `patience`, or for ever.
    pub(super) fn next(&mut self, patience: Option<Duration>) -> Next {
        self.look();
        if let Some(first) = self.waiting.pop_front() {
            return if matches!(first, Incoming::Closed) { Next::Closed } else { Next::Incoming(first) };
        }
        let come = match patience {
            Some(patience) => self.stream.recv_timeout(patience),
            None => self.stream.recv().map_err(|_| RecvTimeoutError::Disconnected),
        };
        match come {
            Ok(Incoming::Closed) | Err(RecvTimeoutError::Disconnected) => Next::Closed,
            Ok(incoming) => Next::Incoming(incoming),
            Err(RecvTimeoutError::Timeout) => Next::Quiet,
        }
    }
}

/// The request that this cancels.
fn canceled_id(incoming: &Incoming) -> Option<RequestId> {
    let Incoming::Message(Message::Notification(notification)) = incoming else { return None };
    if notification.method != "$/cancelRequest" {
        return None;
    }
    let params: CancelParams = serde_json::from_value(notification.params.clone()).ok()?;
    Some(match params.id {
        gen_lsp_types::Id::Int(id) => id.into(),
        gen_lsp_types::Id::String(id) => id.into(),
    })
}
