DROP TABLE hold;
DROP TABLE retention_rule;
