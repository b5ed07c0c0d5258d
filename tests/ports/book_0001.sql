-- A book's database as edition 0001 of the tables held it, dumped by sqlite3; all of it is invented.
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE book (
	id TEXT NOT NULL, 
	name TEXT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "book" VALUES('old-1','Old bay');
CREATE TABLE changes (
	number INTEGER NOT NULL, 
	"by" TEXT NOT NULL, 
	at TEXT NOT NULL, 
	words TEXT NOT NULL, 
	undoes INTEGER NOT NULL, 
	PRIMARY KEY (number)
);
INSERT INTO "changes" VALUES(1,'AB','2026-01-05T08:00:00+01:00','began trial N1',0);
INSERT INTO "changes" VALUES(2,'AB','2026-01-05T08:00:00+01:00','logged bead N1-01',0);
INSERT INTO "changes" VALUES(3,'AB','2026-01-05T08:00:00+01:00','changed bead N1-01',0);
INSERT INTO "changes" VALUES(4,'AB','2026-01-05T08:00:00+01:00','added picture',0);
INSERT INTO "changes" VALUES(5,'AB','2026-01-05T08:00:00+01:00','read',0);
CREATE TABLE documents (
	sha256 TEXT NOT NULL, 
	pressed BLOB NOT NULL, 
	PRIMARY KEY (sha256)
);
INSERT INTO "documents" VALUES('0bfbca21b03ba5fc30bb07d0af5182aefa38f1e73c465b693f008267020f349f',X'789CAB56CACF4951B25228292A4DAD05001E7D0496');
CREATE TABLE editions (
	code TEXT NOT NULL, 
	edition INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	change INTEGER NOT NULL, 
	"by" TEXT NOT NULL, 
	at TEXT NOT NULL, 
	binned TEXT NOT NULL, 
	body TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	PRIMARY KEY (code, edition), 
	FOREIGN KEY(change) REFERENCES changes (number)
);
INSERT INTO "editions" VALUES('N1',1,'trial',1,'AB','2026-01-05T08:00:00+01:00','','{"code":"N1","gas":"","joint":{"family":"tee","groove":null,"thickness_1":8.0,"thickness_2":null,"throat":null},"mark":"m-old","material":"","procedure":"","question":"Größer?","remarks":"","wire":""}','4fa340f90c599b179e59e0c2e7d8fc4abf4c1b32268f5dcab9be8260b0654f02');
INSERT INTO "editions" VALUES('N1-01',1,'bead',2,'AB','2026-01-05T08:00:00+01:00','','{"code":"N1-01","settings":[{"name":"volts","origin":"set","text":"","typed":"18.5V","u":null,"value":18.5},{"name":"gas","origin":"set","text":"Ar ''mix''","typed":"","u":null,"value":null}],"welded":""}','377a91896a62f769af051c6b1aaedaa5b3447af4e1fb5030005eb03cff2da81b');
INSERT INTO "editions" VALUES('N1-01',2,'bead',3,'AB','2026-01-05T08:00:00+01:00','','{"code":"N1-01","settings":[{"name":"volts","origin":"set","text":"","typed":"18.5V","u":null,"value":18.5},{"name":"gas","origin":"set","text":"Ar ''mix''","typed":"","u":null,"value":null},{"name":"amps","origin":"read","text":"","typed":"","u":null,"value":165.0}],"welded":""}','04a8505394aa9af77371729c9eae895afc23284d943acc8286d36d22615e374d');
INSERT INTO "editions" VALUES('N1-01-A-1-P1',1,'picture',4,'AB','2026-01-05T08:00:00+01:00','','{"code":"N1-01-A-1-P1","copied_from":"","etched":"","finish":"","height":3,"lens":"","light":"","name":"old.jpg","remarks":"","sha256":"fb8daff266d582f5f393e537ec3b23cce6d65f1d07601a03424101e3fe610aac","size":30,"suffix":".jpg","taken":"","width":4}','b2dd4c90dd34eb65362242eeacd688ffe85e8ad1557b17589af4faad75cedf9a');
INSERT INTO "editions" VALUES('N1-01-A-1-P1-R1',1,'reading',5,'AB','2026-01-05T08:00:00+01:00','','{"code":"N1-01-A-1-P1-R1","dimensions":[{"absent":"","dof":null,"name":"leg_1","u":0.04,"unit":"mm","value":6.3}],"document":"0bfbca21b03ba5fc30bb07d0af5182aefa38f1e73c465b693f008267020f349f","doubts":[],"family":"tee","made":"automatic","picture":"fb8daff266d582f5f393e537ec3b23cce6d65f1d07601a03424101e3fe610aac","program":"etchbook 0.1.0"}','2384160f056231f0013e09fe474e3575742f4baae24e6cd3a060ef8c331c2012');
CREATE TABLE heads (
	code TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	parent TEXT NOT NULL, 
	bead TEXT NOT NULL, 
	edition INTEGER NOT NULL, 
	binned TEXT NOT NULL, 
	PRIMARY KEY (code)
);
INSERT INTO "heads" VALUES('N1','trial','','',1,'');
INSERT INTO "heads" VALUES('N1-01','bead','N1','N1-01',2,'');
INSERT INTO "heads" VALUES('N1-01-A-1-P1','picture','N1-01-A-1','N1-01',1,'');
INSERT INTO "heads" VALUES('N1-01-A-1-P1-R1','reading','N1-01-A-1-P1','N1-01',1,'');
CREATE TABLE numbers (
	code TEXT NOT NULL, 
	name TEXT NOT NULL, 
	origin TEXT NOT NULL, 
	bead TEXT NOT NULL, 
	value DOUBLE NOT NULL, 
	u DOUBLE, 
	PRIMARY KEY (code, name, origin)
);
INSERT INTO "numbers" VALUES('N1-01','volts','set','N1-01',18.5,NULL);
INSERT INTO "numbers" VALUES('N1-01','amps','read','N1-01',165.0,NULL);
INSERT INTO "numbers" VALUES('N1-01-A-1-P1-R1','leg_1','measured','N1-01',6.3,0.04);
CREATE TABLE originals (
	sha256 TEXT NOT NULL, 
	suffix TEXT NOT NULL, 
	size INTEGER NOT NULL, 
	PRIMARY KEY (sha256)
);
INSERT INTO "originals" VALUES('fb8daff266d582f5f393e537ec3b23cce6d65f1d07601a03424101e3fe610aac','.jpg',30);
CREATE TABLE words (
	word TEXT NOT NULL, 
	code TEXT NOT NULL, 
	PRIMARY KEY (word, code)
);
INSERT INTO "words" VALUES('grosser','N1');
INSERT INTO "words" VALUES('n1','N1');
INSERT INTO "words" VALUES('18','N1-01');
INSERT INTO "words" VALUES('5v','N1-01');
INSERT INTO "words" VALUES('amps','N1-01');
INSERT INTO "words" VALUES('ar','N1-01');
INSERT INTO "words" VALUES('gas','N1-01');
INSERT INTO "words" VALUES('mix','N1-01');
INSERT INTO "words" VALUES('n1-01','N1-01');
INSERT INTO "words" VALUES('read','N1-01');
INSERT INTO "words" VALUES('set','N1-01');
INSERT INTO "words" VALUES('volts','N1-01');
INSERT INTO "words" VALUES('jpg','N1-01-A-1-P1');
INSERT INTO "words" VALUES('n1-01-a-1-p1','N1-01-A-1-P1');
INSERT INTO "words" VALUES('old','N1-01-A-1-P1');
INSERT INTO "words" VALUES('0','N1-01-A-1-P1-R1');
INSERT INTO "words" VALUES('1','N1-01-A-1-P1-R1');
INSERT INTO "words" VALUES('automatic','N1-01-A-1-P1-R1');
INSERT INTO "words" VALUES('etchbook','N1-01-A-1-P1-R1');
INSERT INTO "words" VALUES('n1-01-a-1-p1-r1','N1-01-A-1-P1-R1');
CREATE INDEX editions_of_change ON editions (change);
CREATE INDEX heads_below ON heads (parent, code);
CREATE INDEX heads_of_kind ON heads (kind, code);
CREATE INDEX heads_binned ON heads (binned) WHERE binned <> '';
CREATE INDEX heads_of_bead ON heads (bead);
CREATE INDEX words_of_code ON words (code);
CREATE INDEX numbers_by_value ON numbers (name, value, bead);
CREATE TRIGGER changes_no_update BEFORE UPDATE ON changes BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER changes_no_delete BEFORE DELETE ON changes BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER editions_no_update BEFORE UPDATE ON editions BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER editions_no_delete BEFORE DELETE ON editions BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER documents_no_update BEFORE UPDATE ON documents BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER documents_no_delete BEFORE DELETE ON documents BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER originals_no_update BEFORE UPDATE ON originals BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER originals_no_delete BEFORE DELETE ON originals BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER book_no_update BEFORE UPDATE ON book BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
CREATE TRIGGER book_no_delete BEFORE DELETE ON book BEGIN SELECT RAISE(ABORT, 'the book is append only'); END;
COMMIT;
