//! Limits per address. They are wide, because a whole class shares one campus address; what slows a guesser down are
//! the growing delays of the account.

use std::net::IpAddr;
use std::num::NonZeroU32;

use actix_web::HttpRequest;
use governor::clock::Clock as _;
use governor::{DefaultKeyedRateLimiter, Quota, RateLimiter};

use crate::settings::Settings;
use crate::trouble::Trouble;

/// What is counted per address.
#[derive(Debug)]
pub struct Limits {
    sign_in: DefaultKeyedRateLimiter<IpAddr>,
    upload: DefaultKeyedRateLimiter<IpAddr>,
}

impl Default for Limits {
    fn default() -> Self {
        Self::of((60, 120), (120, 200))
    }
}

fn limiter(a_minute: u32, burst: u32) -> DefaultKeyedRateLimiter<IpAddr> {
    let rate = NonZeroU32::new(a_minute).unwrap_or(NonZeroU32::MIN);
    let burst = NonZeroU32::new(burst).unwrap_or(NonZeroU32::MIN);
    RateLimiter::keyed(Quota::per_minute(rate).allow_burst(burst))
}

impl Limits {
    /// Limits of so many a minute and so many at once: for signing in, and for uploads.
    #[must_use]
    pub fn of(sign_in: (u32, u32), upload: (u32, u32)) -> Self {
        Self { sign_in: limiter(sign_in.0, sign_in.1), upload: limiter(upload.0, upload.1) }
    }

    /// One try at signing in, at a forgotten password, or with a link.
    ///
    /// # Errors
    /// Too many from this address.
    pub fn sign_in(&self, address: IpAddr) -> Result<(), Trouble> {
        take(&self.sign_in, address)
    }

    /// One upload.
    ///
    /// # Errors
    /// Too many from this address.
    pub fn upload(&self, address: IpAddr) -> Result<(), Trouble> {
        take(&self.upload, address)
    }
}

fn take(limiter: &DefaultKeyedRateLimiter<IpAddr>, address: IpAddr) -> Result<(), Trouble> {
    limiter.check_key(&address).map_err(|not_until| {
        let wait = not_until.wait_time_from(limiter.clock().now());
        Trouble::TooMany { seconds: wait.as_secs().max(1) }
    })
}

/// Where a request comes from: the peer, or what a trusted proxy says.
#[must_use]
pub fn address_of(request: &HttpRequest, settings: &Settings) -> IpAddr {
    let peer = request.peer_addr().map_or(IpAddr::from([0, 0, 0, 0]), |peer| peer.ip());
    if !settings.trusted_proxies.contains(&peer) {
        return peer;
    }
    request
        .headers()
        .get("x-forwarded-for")
        .and_then(|value| value.to_str().ok())
        .and_then(|list| list.rsplit(',').next())
        .and_then(|last| last.trim().parse().ok())
        .unwrap_or(peer)
}
