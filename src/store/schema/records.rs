//! Tables of letters, once-keys, the journal, disclosures, retention, kept archives and ids of other systems.

diesel::table! {
    letter (id) {
        id -> Text,
        kind -> Text,
        person_id -> Text,
        class_id -> Nullable<Text>,
        cause -> Nullable<Text>,
        detail -> Text,
        created_at -> BigInt,
        not_before -> BigInt,
        attempts -> Integer,
        tried_since -> Nullable<BigInt>,
        lease_owner -> Nullable<Text>,
        lease_until -> Nullable<BigInt>,
        sent_at -> Nullable<BigInt>,
        failed_at -> Nullable<BigInt>,
        dropped_at -> Nullable<BigInt>,
        last_error -> Nullable<Text>,
    }
}

diesel::table! {
    once (key) {
        key -> Text,
        person_id -> Nullable<Text>,
        door -> Text,
        body_sha256 -> Text,
        location -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    journal_head (scope) {
        scope -> Text,
        seq -> BigInt,
        hash -> Text,
    }
}

diesel::table! {
    journal (scope, seq) {
        scope -> Text,
        seq -> BigInt,
        at -> BigInt,
        person_id -> Nullable<Text>,
        act -> Text,
        subject -> Text,
        detail_hash -> Text,
        hash -> Text,
    }
}

diesel::table! {
    journal_detail (scope, seq) {
        scope -> Text,
        seq -> BigInt,
        salt -> Text,
        detail -> Text,
    }
}

diesel::table! {
    disclosure (id) {
        id -> Text,
        at -> BigInt,
        by_id -> Nullable<Text>,
        class_id -> Nullable<Text>,
        person_id -> Nullable<Text>,
        what -> Text,
        purpose -> Text,
        party -> Text,
    }
}

diesel::table! {
    external_id (kind, source, theirs) {
        kind -> Text,
        ours -> Text,
        source -> Text,
        theirs -> Text,
    }
}

diesel::table! {
    retention_rule (kind) {
        kind -> Text,
        days -> Integer,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    hold (id) {
        id -> Text,
        class_id -> Nullable<Text>,
        person_id -> Nullable<Text>,
        reason -> Text,
        by_id -> Text,
        at -> BigInt,
        lifted_at -> Nullable<BigInt>,
        lifted_by -> Nullable<Text>,
    }
}

diesel::table! {
    kept_archive (id) {
        id -> Text,
        of_classes -> Text,
        as_of -> BigInt,
        made_at -> BigInt,
    }
}

diesel::table! {
    kept_archive_class (kept_archive_id, class_id) {
        kept_archive_id -> Text,
        class_id -> Text,
    }
}

diesel::table! {
    kept_archive_piece (kept_archive_id, position) {
        kept_archive_id -> Text,
        position -> Integer,
        bytes -> Binary,
    }
}
