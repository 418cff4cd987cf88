--
-- PostgreSQL database dump
--


-- Dumped from database version 15.18 (Debian 15.18-0+deb12u1)
-- Dumped by pg_dump version 15.18 (Debian 15.18-0+deb12u1)

SET statement_timeout = 0;
SET lock_timeout = 0;
SET idle_in_transaction_session_timeout = 0;
SET client_encoding = 'UTF8';
SET standard_conforming_strings = on;
SELECT pg_catalog.set_config('search_path', '', false);
SET check_function_bodies = false;
SET xmloption = content;
SET client_min_messages = warning;
SET row_security = off;

--
-- Name: history_stands(); Type: FUNCTION; Schema: public; Owner: -
--

CREATE FUNCTION public.history_stands() RETURNS trigger
    LANGUAGE plpgsql
    AS $$ BEGIN RAISE EXCEPTION 'the history is never deleted' USING ERRCODE = 'integrity_constraint_violation'; END $$;


--
-- Name: movement_stands(); Type: FUNCTION; Schema: public; Owner: -
--

CREATE FUNCTION public.movement_stands() RETURNS trigger
    LANGUAGE plpgsql
    AS $$ BEGIN RAISE EXCEPTION 'a movement is never changed or deleted: enter a correction instead' USING ERRCODE = 'integrity_constraint_violation'; END $$;


SET default_tablespace = '';

SET default_table_access_method = heap;

--
-- Name: alembic_version; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.alembic_version (
    version_num character varying(32) NOT NULL
);


--
-- Name: crop; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.crop (
    id integer NOT NULL,
    key character varying(120) NOT NULL,
    code character varying(3) NOT NULL,
    name text NOT NULL,
    folded text NOT NULL,
    botanical_name text DEFAULT ''::text NOT NULL,
    standard_percent integer,
    interval_months integer,
    reserve_seeds integer,
    CONSTRAINT ck_crop_interval_months_range CHECK ((interval_months > 0)),
    CONSTRAINT ck_crop_reserve_seeds_range CHECK ((reserve_seeds >= 0)),
    CONSTRAINT ck_crop_standard_percent_range CHECK (((standard_percent >= 0) AND (standard_percent <= 100)))
);


--
-- Name: crop_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.crop_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: crop_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.crop_id_seq OWNED BY public.crop.id;


--
-- Name: dish; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.dish (
    id integer NOT NULL,
    test_id integer NOT NULL,
    number integer NOT NULL,
    seeds integer NOT NULL,
    CONSTRAINT ck_dish_seeds_range CHECK ((seeds > 0))
);


--
-- Name: dish_count; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.dish_count (
    id integer NOT NULL,
    dish_id integer NOT NULL,
    on_date date NOT NULL,
    normal integer,
    abnormal integer,
    hard integer,
    fresh integer,
    dead integer
);


--
-- Name: dish_count_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.dish_count_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: dish_count_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.dish_count_id_seq OWNED BY public.dish_count.id;


--
-- Name: dish_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.dish_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: dish_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.dish_id_seq OWNED BY public.dish.id;


--
-- Name: germination_test; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.germination_test (
    id integer NOT NULL,
    lot_id integer NOT NULL,
    state character varying(10) NOT NULL,
    started_on date NOT NULL,
    finished_on date,
    origin text DEFAULT 'here'::text NOT NULL,
    rules text DEFAULT 'home test'::text NOT NULL,
    substrate text DEFAULT ''::text NOT NULL,
    temperature text DEFAULT ''::text NOT NULL,
    first_count_days integer,
    final_count_days integer,
    prechill_days integer DEFAULT 0 NOT NULL,
    seeds integer NOT NULL,
    normal_percent integer,
    abnormal_percent integer,
    hard_percent integer,
    fresh_percent integer,
    dead_percent integer,
    not_classed_percent integer,
    low_percent double precision,
    high_percent double precision,
    range_percent double precision,
    allowed_percent double precision,
    within_tolerance boolean,
    standard_percent integer,
    verdict character varying(30),
    verdict_why text DEFAULT ''::text NOT NULL,
    note text DEFAULT ''::text NOT NULL,
    CONSTRAINT ck_germination_test_finished_after_start CHECK (((finished_on IS NULL) OR (finished_on >= started_on))),
    CONSTRAINT ck_germination_test_seeds_range CHECK ((seeds > 0)),
    CONSTRAINT ck_germination_test_state_known CHECK (((state)::text = ANY ((ARRAY['running'::character varying, 'finished'::character varying, 'abandoned'::character varying])::text[])))
);


--
-- Name: germination_test_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.germination_test_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: germination_test_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.germination_test_id_seq OWNED BY public.germination_test.id;


--
-- Name: history; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.history (
    id integer NOT NULL,
    job character varying(36) NOT NULL,
    what text NOT NULL,
    at timestamp without time zone NOT NULL,
    person_id integer,
    table_name character varying(30) NOT NULL,
    row_id integer NOT NULL,
    before json,
    after json,
    taken_back_by character varying(36)
);


--
-- Name: history_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.history_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: history_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.history_id_seq OWNED BY public.history.id;


--
-- Name: hold; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.hold (
    id integer NOT NULL,
    lot_id integer NOT NULL,
    kind character varying(20) NOT NULL,
    note text DEFAULT ''::text NOT NULL,
    set_on date NOT NULL,
    set_by integer,
    lifted_on date,
    lifted_by integer,
    lifted_why text DEFAULT ''::text NOT NULL,
    CONSTRAINT ck_hold_kind_known CHECK (((kind)::text = ANY ((ARRAY['insects'::character varying, 'disease'::character varying, 'treated seed'::character varying, 'doubtful identity'::character varying, 'wet'::character varying, 'other'::character varying])::text[]))),
    CONSTRAINT ck_hold_lifted_with_reason CHECK (((lifted_on IS NULL) OR (length(lifted_why) > 0)))
);


--
-- Name: hold_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.hold_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: hold_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.hold_id_seq OWNED BY public.hold.id;


--
-- Name: lot; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.lot (
    id integer NOT NULL,
    number character varying(16) NOT NULL,
    variety_id integer NOT NULL,
    year integer,
    place_id integer,
    grower_id integer,
    donor_id integer,
    received_on date NOT NULL,
    received_precision character varying(5) DEFAULT 'day'::character varying NOT NULL,
    plants integer,
    isolation text DEFAULT ''::text NOT NULL,
    notes text DEFAULT ''::text NOT NULL,
    identity character varying(10) DEFAULT 'claimed'::character varying NOT NULL,
    unit character varying(5) NOT NULL,
    stock integer,
    stock_is_estimate boolean DEFAULT false NOT NULL,
    thousand_seed_weight_ug integer,
    moisture_percent_wb double precision,
    germination_percent integer,
    hard_percent integer,
    tested_on date,
    due_on date,
    due_why text DEFAULT ''::text NOT NULL,
    due_bar character varying(20) DEFAULT ''::character varying NOT NULL,
    below_standard boolean,
    low boolean DEFAULT false NOT NULL,
    state character varying(20) DEFAULT 'in hand'::character varying NOT NULL,
    find_text text DEFAULT ''::text NOT NULL,
    version integer DEFAULT 1 NOT NULL,
    CONSTRAINT ck_lot_germination_percent_range CHECK (((germination_percent >= 0) AND (germination_percent <= 100))),
    CONSTRAINT ck_lot_identity_known CHECK (((identity)::text = ANY ((ARRAY['claimed'::character varying, 'seen true'::character varying, 'unknown'::character varying])::text[]))),
    CONSTRAINT ck_lot_plants_range CHECK (((plants IS NULL) OR (plants > 0))),
    CONSTRAINT ck_lot_received_precision_known CHECK (((received_precision)::text = ANY ((ARRAY['day'::character varying, 'month'::character varying, 'year'::character varying])::text[]))),
    CONSTRAINT ck_lot_stock_not_negative CHECK (((stock IS NULL) OR (stock >= 0))),
    CONSTRAINT ck_lot_tsw_range CHECK (((thousand_seed_weight_ug IS NULL) OR (thousand_seed_weight_ug > 0))),
    CONSTRAINT ck_lot_unit_known CHECK (((unit)::text = ANY ((ARRAY['mg'::character varying, 'seeds'::character varying])::text[]))),
    CONSTRAINT ck_lot_year_range CHECK (((year IS NULL) OR ((year >= 1800) AND (year <= 2200))))
);


--
-- Name: lot_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.lot_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: lot_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.lot_id_seq OWNED BY public.lot.id;


--
-- Name: lot_parent; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.lot_parent (
    lot_id integer NOT NULL,
    parent_id integer NOT NULL,
    CONSTRAINT ck_lot_parent_not_its_own_parent CHECK ((lot_id <> parent_id))
);


--
-- Name: movement; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.movement (
    id integer NOT NULL,
    lot_id integer NOT NULL,
    kind character varying(12) NOT NULL,
    amount integer,
    on_date date NOT NULL,
    person_id integer,
    why text DEFAULT ''::text NOT NULL,
    corrects_id integer,
    test_id integer,
    batch_id integer,
    entered_at timestamp without time zone NOT NULL,
    CONSTRAINT ck_movement_correction_points CHECK ((((kind)::text = 'corrected'::text) = (corrects_id IS NOT NULL))),
    CONSTRAINT ck_movement_kind_known CHECK (((kind)::text = ANY ((ARRAY['received'::character varying, 'cleaned'::character varying, 'test'::character varying, 'packed'::character varying, 'handed out'::character varying, 'sown'::character varying, 'returned'::character varying, 'stocktake'::character varying, 'discarded'::character varying, 'corrected'::character varying])::text[])))
);


--
-- Name: movement_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.movement_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: movement_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.movement_id_seq OWNED BY public.movement.id;


--
-- Name: packet_batch; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.packet_batch (
    id integer NOT NULL,
    lot_id integer NOT NULL,
    packed_on date NOT NULL,
    packets integer NOT NULL,
    seeds_per_packet integer NOT NULL,
    fill_mg integer,
    packets_left integer NOT NULL,
    CONSTRAINT ck_packet_batch_packets_range CHECK (((packets > 0) AND ((packets_left >= 0) AND (packets_left <= packets)))),
    CONSTRAINT ck_packet_batch_seeds_per_packet_range CHECK ((seeds_per_packet > 0))
);


--
-- Name: packet_batch_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.packet_batch_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: packet_batch_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.packet_batch_id_seq OWNED BY public.packet_batch.id;


--
-- Name: person; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.person (
    id integer NOT NULL,
    name text,
    folded text DEFAULT ''::text NOT NULL,
    note text DEFAULT ''::text NOT NULL,
    at_bench boolean DEFAULT false NOT NULL,
    erased_on date
);


--
-- Name: person_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.person_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: person_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.person_id_seq OWNED BY public.person.id;


--
-- Name: place; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.place (
    id integer NOT NULL,
    name text NOT NULL,
    folded text NOT NULL,
    note text DEFAULT ''::text NOT NULL
);


--
-- Name: place_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.place_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: place_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.place_id_seq OWNED BY public.place.id;


--
-- Name: preparing_step; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.preparing_step (
    id integer NOT NULL,
    lot_id integer NOT NULL,
    kind character varying(10) NOT NULL,
    on_date date NOT NULL,
    until_on date,
    mass_mg integer,
    evidence character varying(20),
    evidence_value double precision,
    evidence_passed boolean DEFAULT true NOT NULL,
    sealed boolean DEFAULT false NOT NULL,
    seeds integer,
    replicates_mg json,
    thousand_seed_weight_ug integer,
    cv_percent double precision,
    temperature_c double precision,
    person_id integer,
    note text DEFAULT ''::text NOT NULL,
    CONSTRAINT ck_preparing_step_kind_known CHECK (((kind)::text = ANY ((ARRAY['cleaned'::character varying, 'dried'::character varying, 'weighed'::character varying, 'counted'::character varying, 'frozen'::character varying])::text[])))
);


--
-- Name: preparing_step_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.preparing_step_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: preparing_step_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.preparing_step_id_seq OWNED BY public.preparing_step.id;


--
-- Name: setting; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.setting (
    name character varying(60) NOT NULL,
    value json NOT NULL
);


--
-- Name: stay; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.stay (
    id integer NOT NULL,
    lot_id integer NOT NULL,
    store_place_id integer NOT NULL,
    from_on date NOT NULL,
    until_on date,
    container text DEFAULT ''::text NOT NULL,
    airtight boolean,
    CONSTRAINT ck_stay_until_after_from CHECK (((until_on IS NULL) OR (until_on >= from_on)))
);


--
-- Name: stay_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.stay_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: stay_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.stay_id_seq OWNED BY public.stay.id;


--
-- Name: store_place; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.store_place (
    id integer NOT NULL,
    parent_id integer,
    kind character varying(20) NOT NULL,
    name text NOT NULL,
    temperature_c double precision,
    humidity_percent double precision,
    note text DEFAULT ''::text NOT NULL,
    CONSTRAINT ck_store_place_humidity_percent_range CHECK (((humidity_percent >= (0)::double precision) AND (humidity_percent <= (100)::double precision))),
    CONSTRAINT ck_store_place_kind_known CHECK (((kind)::text = ANY ((ARRAY['room'::character varying, 'freezer'::character varying, 'fridge'::character varying, 'shelf'::character varying, 'box'::character varying, 'slot'::character varying])::text[]))),
    CONSTRAINT ck_store_place_temperature_c_range CHECK (((temperature_c >= ('-200'::integer)::double precision) AND (temperature_c <= (80)::double precision)))
);


--
-- Name: store_place_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.store_place_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: store_place_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.store_place_id_seq OWNED BY public.store_place.id;


--
-- Name: synonym; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.synonym (
    id integer NOT NULL,
    variety_id integer NOT NULL,
    name text NOT NULL,
    folded text NOT NULL
);


--
-- Name: synonym_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.synonym_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: synonym_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.synonym_id_seq OWNED BY public.synonym.id;


--
-- Name: variety; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.variety (
    id integer NOT NULL,
    crop_id integer NOT NULL,
    name text NOT NULL,
    folded text NOT NULL,
    note text DEFAULT ''::text NOT NULL
);


--
-- Name: variety_id_seq; Type: SEQUENCE; Schema: public; Owner: -
--

CREATE SEQUENCE public.variety_id_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;


--
-- Name: variety_id_seq; Type: SEQUENCE OWNED BY; Schema: public; Owner: -
--

ALTER SEQUENCE public.variety_id_seq OWNED BY public.variety.id;


--
-- Name: crop id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.crop ALTER COLUMN id SET DEFAULT nextval('public.crop_id_seq'::regclass);


--
-- Name: dish id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.dish ALTER COLUMN id SET DEFAULT nextval('public.dish_id_seq'::regclass);


--
-- Name: dish_count id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.dish_count ALTER COLUMN id SET DEFAULT nextval('public.dish_count_id_seq'::regclass);


--
-- Name: germination_test id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.germination_test ALTER COLUMN id SET DEFAULT nextval('public.germination_test_id_seq'::regclass);


--
-- Name: history id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.history ALTER COLUMN id SET DEFAULT nextval('public.history_id_seq'::regclass);


--
-- Name: hold id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.hold ALTER COLUMN id SET DEFAULT nextval('public.hold_id_seq'::regclass);


--
-- Name: lot id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot ALTER COLUMN id SET DEFAULT nextval('public.lot_id_seq'::regclass);


--
-- Name: movement id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.movement ALTER COLUMN id SET DEFAULT nextval('public.movement_id_seq'::regclass);


--
-- Name: packet_batch id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.packet_batch ALTER COLUMN id SET DEFAULT nextval('public.packet_batch_id_seq'::regclass);


--
-- Name: person id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.person ALTER COLUMN id SET DEFAULT nextval('public.person_id_seq'::regclass);


--
-- Name: place id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.place ALTER COLUMN id SET DEFAULT nextval('public.place_id_seq'::regclass);


--
-- Name: preparing_step id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.preparing_step ALTER COLUMN id SET DEFAULT nextval('public.preparing_step_id_seq'::regclass);


--
-- Name: stay id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.stay ALTER COLUMN id SET DEFAULT nextval('public.stay_id_seq'::regclass);


--
-- Name: store_place id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.store_place ALTER COLUMN id SET DEFAULT nextval('public.store_place_id_seq'::regclass);


--
-- Name: synonym id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.synonym ALTER COLUMN id SET DEFAULT nextval('public.synonym_id_seq'::regclass);


--
-- Name: variety id; Type: DEFAULT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.variety ALTER COLUMN id SET DEFAULT nextval('public.variety_id_seq'::regclass);


--
-- Data for Name: alembic_version; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.alembic_version VALUES ('0001');


--
-- Data for Name: crop; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.crop VALUES (1, 'grain-amaranth', 'AMG', 'Grain amaranth', 'grain amaranth', 'Amaranthus cruentus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (2, 'leaf-amaranth', 'AML', 'Leaf amaranth', 'leaf amaranth', 'Amaranthus tricolor', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (3, 'globe-artichoke', 'ART', 'Globe artichoke', 'globe artichoke', 'Cynara cardunculus Scolymus Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (4, 'cardoon', 'CDN', 'Cardoon', 'cardoon', 'Cynara cardunculus Cardoon Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (5, 'rocket', 'RKT', 'Rocket', 'rocket', 'Eruca vesicaria subsp. sativa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (6, 'asparagus', 'ASP', 'Asparagus', 'asparagus', 'Asparagus officinalis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (7, 'common-bean', 'BNC', 'French bean', 'french bean', 'Phaseolus vulgaris', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (8, 'runner-bean', 'BNR', 'Runner bean', 'runner bean', 'Phaseolus coccineus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (9, 'lima-bean', 'BNL', 'Lima bean', 'lima bean', 'Phaseolus lunatus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (10, 'broad-bean', 'BNB', 'Broad bean', 'broad bean', 'Vicia faba', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (11, 'beetroot', 'BET', 'Beetroot', 'beetroot', 'Beta vulgaris subsp. vulgaris', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (12, 'chard', 'CHD', 'Chard', 'chard', 'Beta vulgaris subsp. vulgaris (Cicla Group)', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (13, 'broccoli', 'BRC', 'Broccoli', 'broccoli', 'Brassica oleracea var. italica', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (14, 'brussels-sprouts', 'BRS', 'Brussels sprout', 'brussels sprout', 'Brassica oleracea var. gemmifera', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (15, 'cabbage', 'CAB', 'Cabbage', 'cabbage', 'Brassica oleracea var. capitata', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (16, 'cauliflower', 'CFL', 'Cauliflower', 'cauliflower', 'Brassica oleracea var. botrytis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (17, 'collards', 'CLD', 'Collard', 'collard', 'Brassica oleracea Acephala Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (18, 'kale', 'KAL', 'Kale', 'kale', 'Brassica oleracea Acephala Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (19, 'kohlrabi', 'KHR', 'Kohlrabi', 'kohlrabi', 'Brassica oleracea var. gongylodes', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (20, 'chinese-cabbage', 'CHC', 'Chinese cabbage', 'chinese cabbage', 'Brassica rapa subsp. pekinensis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (21, 'pak-choi', 'PKC', 'Pak choi', 'pak choi', 'Brassica rapa subsp. chinensis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (22, 'turnip', 'TRN', 'Turnip', 'turnip', 'Brassica rapa subsp. rapa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (23, 'mustard-greens', 'MST', 'Mustard greens', 'mustard greens', 'Brassica juncea', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (24, 'white-mustard', 'MSW', 'White mustard', 'white mustard', 'Sinapis alba', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (25, 'swede', 'SWD', 'Swede', 'swede', 'Brassica napus Napobrassica Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (26, 'radish', 'RAD', 'Radish', 'radish', 'Raphanus sativus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (27, 'carrot', 'CAR', 'Carrot', 'carrot', 'Daucus carota subsp. sativus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (28, 'parsnip', 'PSN', 'Parsnip', 'parsnip', 'Pastinaca sativa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (29, 'celery', 'CEL', 'Celery', 'celery', 'Apium graveolens var. dulce', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (30, 'celeriac', 'CLR', 'Celeriac', 'celeriac', 'Apium graveolens var. rapaceum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (31, 'parsley', 'PSL', 'Parsley', 'parsley', 'Petroselinum crispum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (32, 'fennel', 'FNL', 'Fennel', 'fennel', 'Foeniculum vulgare', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (33, 'chicory', 'CHY', 'Chicory', 'chicory', 'Cichorium intybus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (34, 'endive', 'END', 'Endive', 'endive', 'Cichorium endivia', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (35, 'lettuce', 'LET', 'Lettuce', 'lettuce', 'Lactuca sativa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (36, 'salsify', 'SLF', 'Salsify', 'salsify', 'Tragopogon porrifolius', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (37, 'scorzonera', 'SCZ', 'Scorzonera', 'scorzonera', 'Scorzonera hispanica', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (38, 'corn-salad', 'CSD', 'Corn salad', 'corn salad', 'Valerianella locusta', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (39, 'spinach', 'SPN', 'Spinach', 'spinach', 'Spinacia oleracea', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (40, 'new-zealand-spinach', 'NZS', 'New Zealand spinach', 'new zealand spinach', 'Tetragonia tetragonioides', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (41, 'orache', 'RCH', 'Orache', 'orache', 'Atriplex hortensis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (42, 'purslane', 'PRS', 'Purslane', 'purslane', 'Portulaca oleracea', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (43, 'winter-purslane', 'MNL', 'Winter purslane', 'winter purslane', 'Claytonia perfoliata', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (44, 'sorrel', 'SRL', 'Sorrel', 'sorrel', 'Rumex acetosa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (45, 'rhubarb', 'RHB', 'Rhubarb', 'rhubarb', 'Rheum rhabarbarum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (46, 'garden-cress', 'CRS', 'Garden cress', 'garden cress', 'Lepidium sativum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (47, 'watercress', 'WTC', 'Watercress', 'watercress', 'Nasturtium officinale', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (48, 'onion', 'NNX', 'Onion', 'onion', 'Allium cepa Cepa Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (49, 'shallot', 'SHL', 'Shallot', 'shallot', 'Allium cepa Aggregatum Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (50, 'welsh-onion', 'WLN', 'Welsh onion', 'welsh onion', 'Allium fistulosum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (51, 'leek', 'LEK', 'Leek', 'leek', 'Allium ampeloprasum Porrum Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (52, 'chives', 'CHV', 'Chives', 'chives', 'Allium schoenoprasum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (53, 'garlic-chives', 'GCV', 'Garlic chives', 'garlic chives', 'Allium tuberosum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (54, 'cucumber', 'CCM', 'Cucumber', 'cucumber', 'Cucumis sativus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (55, 'melon', 'MLN', 'Melon', 'melon', 'Cucumis melo', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (56, 'watermelon', 'WML', 'Watermelon', 'watermelon', 'Citrullus lanatus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (57, 'squash-pepo', 'SQP', 'Squash and pumpkin (pepo)', 'squash and pumpkin pepo', 'Cucurbita pepo', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (58, 'squash-maxima', 'SQX', 'Winter squash (maxima)', 'winter squash maxima', 'Cucurbita maxima', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (59, 'squash-moschata', 'SQM', 'Butternut squash (moschata)', 'butternut squash moschata', 'Cucurbita moschata', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (60, 'squash-argyrosperma', 'SQC', 'Cushaw squash (argyrosperma)', 'cushaw squash argyrosperma', 'Cucurbita argyrosperma', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (61, 'bottle-gourd', 'BTG', 'Bottle gourd', 'bottle gourd', 'Lagenaria siceraria', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (62, 'luffa', 'LFF', 'Luffa', 'luffa', 'Luffa aegyptiaca', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (63, 'bitter-melon', 'BTM', 'Bitter melon', 'bitter melon', 'Momordica charantia', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (64, 'chayote', 'CYT', 'Chayote', 'chayote', 'Sechium edule', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (65, 'tomato', 'TMT', 'Tomato', 'tomato', 'Solanum lycopersicum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (66, 'pepper', 'PPR', 'Pepper', 'pepper', 'Capsicum annuum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (67, 'habanero', 'HBN', 'Habanero pepper', 'habanero pepper', 'Capsicum chinense', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (68, 'aubergine', 'AUB', 'Aubergine', 'aubergine', 'Solanum melongena', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (69, 'tomatillo', 'TML', 'Tomatillo', 'tomatillo', 'Physalis philadelphica', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (70, 'ground-cherry', 'GRC', 'Ground cherry', 'ground cherry', 'Physalis pruinosa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (71, 'cape-gooseberry', 'CPG', 'Cape gooseberry', 'cape gooseberry', 'Physalis peruviana', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (72, 'potato-true-seed', 'PTT', 'Potato (true seed)', 'potato true seed', 'Solanum tuberosum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (73, 'okra', 'KRA', 'Okra', 'okra', 'Abelmoschus esculentus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (74, 'sweetcorn', 'SWC', 'Sweetcorn', 'sweetcorn', 'Zea mays Saccharata Group', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (75, 'maize', 'MZE', 'Maize', 'maize', 'Zea mays', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (76, 'pea', 'PEA', 'Pea', 'pea', 'Pisum sativum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (77, 'cowpea', 'CWP', 'Cowpea', 'cowpea', 'Vigna unguiculata', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (78, 'yardlong-bean', 'YLB', 'Yardlong bean', 'yardlong bean', 'Vigna unguiculata subsp. sesquipedalis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (79, 'mung-bean', 'MNG', 'Mung bean', 'mung bean', 'Vigna radiata', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (80, 'adzuki-bean', 'ADZ', 'Adzuki bean', 'adzuki bean', 'Vigna angularis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (81, 'soybean', 'SYB', 'Soya bean', 'soya bean', 'Glycine max', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (82, 'lentil', 'LNT', 'Lentil', 'lentil', 'Lens culinaris', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (83, 'chickpea', 'CKP', 'Chickpea', 'chickpea', 'Cicer arietinum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (84, 'peanut', 'PNT', 'Peanut', 'peanut', 'Arachis hypogaea', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (85, 'white-lupin', 'LPN', 'White lupin', 'white lupin', 'Lupinus albus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (86, 'lablab', 'LBB', 'Lablab bean', 'lablab bean', 'Lablab purpureus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (87, 'fenugreek', 'FNG', 'Fenugreek', 'fenugreek', 'Trigonella foenum-graecum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (88, 'wheat', 'WHT', 'Wheat', 'wheat', 'Triticum aestivum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (89, 'spelt', 'SPL', 'Spelt', 'spelt', 'Triticum aestivum subsp. spelta', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (90, 'barley', 'BRL', 'Barley', 'barley', 'Hordeum vulgare', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (91, 'oats', 'ATS', 'Oats', 'oats', 'Avena sativa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (92, 'rye', 'RYE', 'Rye', 'rye', 'Secale cereale', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (93, 'triticale', 'TRC', 'Triticale', 'triticale', '× Triticosecale', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (94, 'rice', 'RCE', 'Rice', 'rice', 'Oryza sativa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (95, 'wild-rice', 'WRC', 'Wild rice', 'wild rice', 'Zizania palustris', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (96, 'sorghum', 'SRG', 'Sorghum', 'sorghum', 'Sorghum bicolor', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (97, 'proso-millet', 'MLP', 'Proso millet', 'proso millet', 'Panicum miliaceum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (98, 'pearl-millet', 'MLL', 'Pearl millet', 'pearl millet', 'Pennisetum glaucum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (99, 'foxtail-millet', 'MLF', 'Foxtail millet', 'foxtail millet', 'Setaria italica', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (100, 'teff', 'TFF', 'Teff', 'teff', 'Eragrostis tef', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (101, 'buckwheat', 'BWT', 'Buckwheat', 'buckwheat', 'Fagopyrum esculentum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (102, 'quinoa', 'QNA', 'Quinoa', 'quinoa', 'Chenopodium quinoa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (103, 'flax', 'FLX', 'Flax', 'flax', 'Linum usitatissimum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (104, 'sunflower', 'SNF', 'Sunflower', 'sunflower', 'Helianthus annuus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (105, 'safflower', 'SFF', 'Safflower', 'safflower', 'Carthamus tinctorius', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (106, 'sesame', 'SSM', 'Sesame', 'sesame', 'Sesamum indicum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (107, 'breadseed-poppy', 'PPY', 'Breadseed poppy', 'breadseed poppy', 'Papaver somniferum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (108, 'jute-mallow', 'JTM', 'Jute mallow', 'jute mallow', 'Corchorus olitorius', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (109, 'malabar-spinach', 'MLB', 'Malabar spinach', 'malabar spinach', 'Basella alba', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (110, 'water-spinach', 'WSP', 'Water spinach', 'water spinach', 'Ipomoea aquatica', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (111, 'basil', 'BSL', 'Basil', 'basil', 'Ocimum basilicum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (112, 'coriander', 'CRN', 'Coriander', 'coriander', 'Coriandrum sativum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (113, 'dill', 'DLL', 'Dill', 'dill', 'Anethum graveolens', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (114, 'caraway', 'CWY', 'Caraway', 'caraway', 'Carum carvi', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (115, 'anise', 'ANS', 'Anise', 'anise', 'Pimpinella anisum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (116, 'chervil', 'CVL', 'Chervil', 'chervil', 'Anthriscus cerefolium', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (117, 'lovage', 'LVG', 'Lovage', 'lovage', 'Levisticum officinale', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (118, 'cumin', 'CMN', 'Cumin', 'cumin', 'Cuminum cyminum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (119, 'borage', 'BRG', 'Borage', 'borage', 'Borago officinalis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (120, 'thyme', 'THM', 'Thyme', 'thyme', 'Thymus vulgaris', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (121, 'oregano', 'RGN', 'Oregano', 'oregano', 'Origanum vulgare', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (122, 'sweet-marjoram', 'MJR', 'Sweet marjoram', 'sweet marjoram', 'Origanum majorana', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (123, 'sage', 'SGE', 'Sage', 'sage', 'Salvia officinalis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (124, 'lemon-balm', 'LMB', 'Lemon balm', 'lemon balm', 'Melissa officinalis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (125, 'spearmint', 'MNT', 'Spearmint', 'spearmint', 'Mentha spicata', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (126, 'summer-savory', 'SVR', 'Summer savory', 'summer savory', 'Satureja hortensis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (127, 'hyssop', 'HYS', 'Hyssop', 'hyssop', 'Hyssopus officinalis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (128, 'lavender', 'LVN', 'Lavender', 'lavender', 'Lavandula angustifolia', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (129, 'catnip', 'CTN', 'Catmint', 'catmint', 'Nepeta cataria', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (130, 'shiso', 'SHS', 'Shiso', 'shiso', 'Perilla frutescens', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (131, 'chamomile', 'CHM', 'German chamomile', 'german chamomile', 'Matricaria chamomilla', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (132, 'calendula', 'CLN', 'Pot marigold', 'pot marigold', 'Calendula officinalis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (133, 'african-marigold', 'MRG', 'African marigold', 'african marigold', 'Tagetes erecta', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (134, 'zinnia', 'ZNN', 'Zinnia', 'zinnia', 'Zinnia elegans', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (135, 'cosmos', 'CSM', 'Cosmos', 'cosmos', 'Cosmos bipinnatus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (136, 'snapdragon', 'SND', 'Snapdragon', 'snapdragon', 'Antirrhinum majus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (137, 'cornflower', 'CNF', 'Cornflower', 'cornflower', 'Centaurea cyanus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (138, 'nasturtium', 'NST', 'Nasturtium', 'nasturtium', 'Tropaeolum majus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (139, 'strawflower', 'STR', 'Strawflower', 'strawflower', 'Xerochrysum bracteatum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (140, 'china-aster', 'CHN', 'China aster', 'china aster', 'Callistephus chinensis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (141, 'celosia', 'CSL', 'Cockscomb', 'cockscomb', 'Celosia argentea', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (142, 'four-oclock', 'FRC', 'Four o''clock', 'four oclock', 'Mirabilis jalapa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (143, 'petunia', 'PTN', 'Petunia', 'petunia', 'Petunia × atkinsiana', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (144, 'flowering-tobacco', 'FTB', 'Flowering tobacco', 'flowering tobacco', 'Nicotiana alata', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (145, 'black-eyed-susan', 'BES', 'Black-eyed Susan', 'black eyed susan', 'Rudbeckia hirta', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (146, 'sweet-pea', 'SWP', 'Sweet pea', 'sweet pea', 'Lathyrus odoratus', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (147, 'love-in-a-mist', 'LVM', 'Love-in-a-mist', 'love in a mist', 'Nigella damascena', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (148, 'morning-glory', 'MGL', 'Morning glory', 'morning glory', 'Ipomoea purpurea', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (149, 'foxglove', 'FXG', 'Foxglove', 'foxglove', 'Digitalis purpurea', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (150, 'castor-bean', 'CST', 'Castor oil plant', 'castor oil plant', 'Ricinus communis', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (151, 'thorn-apple', 'THP', 'Thorn apple', 'thorn apple', 'Datura stramonium', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (152, 'california-poppy', 'CPP', 'California poppy', 'california poppy', 'Eschscholzia californica', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (153, 'phacelia', 'PHC', 'Phacelia', 'phacelia', 'Phacelia tanacetifolia', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (154, 'gaillardia', 'GLL', 'Gaillardia', 'gaillardia', 'Gaillardia pulchella', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (155, 'coreopsis', 'CRP', 'Coreopsis', 'coreopsis', 'Coreopsis tinctoria', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (156, 'purple-coneflower', 'PCF', 'Purple coneflower', 'purple coneflower', 'Echinacea purpurea', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (157, 'yarrow', 'YRW', 'Yarrow', 'yarrow', 'Achillea millefolium', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (158, 'butterfly-milkweed', 'MWB', 'Butterfly weed', 'butterfly weed', 'Asclepias tuberosa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (159, 'swamp-milkweed', 'MWS', 'Swamp milkweed', 'swamp milkweed', 'Asclepias incarnata', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (160, 'wild-bergamot', 'WBG', 'Wild bergamot', 'wild bergamot', 'Monarda fistulosa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (161, 'columbine', 'CLB', 'Columbine', 'columbine', 'Aquilegia vulgaris', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (162, 'lucerne', 'LCR', 'Lucerne', 'lucerne', 'Medicago sativa', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (163, 'red-clover', 'RCL', 'Red clover', 'red clover', 'Trifolium pratense', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (164, 'crimson-clover', 'CCL', 'Crimson clover', 'crimson clover', 'Trifolium incarnatum', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (165, 'pawpaw', 'PWP', 'Pawpaw', 'pawpaw', 'Asimina triloba', NULL, NULL, NULL);
INSERT INTO public.crop VALUES (166, 'papaya', 'PPA', 'Papaya', 'papaya', 'Carica papaya', NULL, NULL, NULL);


--
-- Data for Name: dish; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.dish VALUES (1, 1, 1, 100);
INSERT INTO public.dish VALUES (2, 1, 2, 100);
INSERT INTO public.dish VALUES (3, 1, 3, 100);
INSERT INTO public.dish VALUES (4, 1, 4, 100);
INSERT INTO public.dish VALUES (5, 2, 1, 25);
INSERT INTO public.dish VALUES (6, 2, 2, 25);


--
-- Data for Name: dish_count; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.dish_count VALUES (1, 1, '2026-11-25', 88, NULL, NULL, NULL, 8);
INSERT INTO public.dish_count VALUES (2, 2, '2026-11-25', 90, NULL, NULL, NULL, 6);
INSERT INTO public.dish_count VALUES (3, 3, '2026-11-25', 91, NULL, NULL, NULL, 5);
INSERT INTO public.dish_count VALUES (4, 4, '2026-11-25', 87, NULL, NULL, NULL, 9);


--
-- Data for Name: germination_test; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.germination_test VALUES (1, 1, 'finished', '2026-11-25', '2026-11-25', 'here', 'home test', 'between blotters', '20 °C', NULL, NULL, 0, 400, 89, NULL, NULL, NULL, 7, 4, 86.16000135034729, 91.31596218467294, 4, 12, true, 60, 'keep', 'germination 89 % of 400 seeds against the standard for Leek, 60 %, hard seed counted: it reaches the bar.', '');
INSERT INTO public.germination_test VALUES (2, 2, 'running', '2026-11-25', NULL, 'here', 'home test', 'sand or soil', '20 °C', 4, 14, 0, 50, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, 75, NULL, '', '');


--
-- Data for Name: history; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.history VALUES (1, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'variety', 1, NULL, '{"crop_id": 51, "name": "Grey Ferryman", "folded": "grey ferryman"}', NULL);
INSERT INTO public.history VALUES (2, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'place', 1, NULL, '{"name": "Ferry Reach", "folded": "ferry reach"}', NULL);
INSERT INTO public.history VALUES (3, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'lot', 1, NULL, '{"number": "LEK-24-001-7", "variety_id": 1, "year": 2024, "place_id": 1, "grower_id": 1, "donor_id": null, "received_on": "2025-01-10", "received_precision": "day", "plants": 24, "isolation": "cage", "notes": "", "identity": "claimed", "unit": "mg", "stock_is_estimate": false}', NULL);
INSERT INTO public.history VALUES (4, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'movement', 1, NULL, '{"lot_id": 1}', NULL);
INSERT INTO public.history VALUES (5, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'variety', 2, NULL, '{"crop_id": 10, "name": "Bannerman''s Dwarf", "folded": "bannermans dwarf"}', NULL);
INSERT INTO public.history VALUES (6, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'lot', 2, NULL, '{"number": "BNB-26-001-Z", "variety_id": 2, "year": 2026, "place_id": 1, "grower_id": 1, "donor_id": null, "received_on": "2026-10-02", "received_precision": "day", "plants": 40, "isolation": "", "notes": "", "identity": "claimed", "unit": "mg", "stock_is_estimate": false}', NULL);
INSERT INTO public.history VALUES (7, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'movement', 2, NULL, '{"lot_id": 2}', NULL);
INSERT INTO public.history VALUES (8, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'variety', 3, NULL, '{"crop_id": 35, "name": "Cr\u00e8me de Candlewick", "folded": "creme de candlewick"}', NULL);
INSERT INTO public.history VALUES (9, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'place', 2, NULL, '{"name": "Upper Mill", "folded": "upper mill"}', NULL);
INSERT INTO public.history VALUES (10, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'lot', 3, NULL, '{"number": "LET-25-001-7", "variety_id": 3, "year": 2025, "place_id": 2, "grower_id": 2, "donor_id": null, "received_on": "2025-09-20", "received_precision": "day", "plants": 12, "isolation": "", "notes": "bolted late", "identity": "claimed", "unit": "mg", "stock_is_estimate": false}', NULL);
INSERT INTO public.history VALUES (11, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'movement', 3, NULL, '{"lot_id": 3}', NULL);
INSERT INTO public.history VALUES (12, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'variety', 4, NULL, '{"crop_id": 21, "name": "\u4e0a\u6d77\u9752", "folded": "\u4e0a\u6d77\u9752"}', NULL);
INSERT INTO public.history VALUES (13, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'place', 3, NULL, '{"name": "\u00d6stervik", "folded": "ostervik"}', NULL);
INSERT INTO public.history VALUES (14, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'lot', 4, NULL, '{"number": "PKC-23-001-1", "variety_id": 4, "year": 2023, "place_id": 3, "grower_id": null, "donor_id": null, "received_on": "2023-11-05", "received_precision": "day", "plants": 6, "isolation": "", "notes": "\u4e0a\u6d77\u9752\u83dc\u7a2e\u5b50 from the market", "identity": "claimed", "unit": "mg", "stock_is_estimate": false}', NULL);
INSERT INTO public.history VALUES (15, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'movement', 4, NULL, '{"lot_id": 4}', NULL);
INSERT INTO public.history VALUES (16, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'variety', 5, NULL, '{"crop_id": 76, "name": "Long Wharf", "folded": "long wharf"}', NULL);
INSERT INTO public.history VALUES (17, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'lot', 5, NULL, '{"number": "PEA-26-001-Z", "variety_id": 5, "year": 2026, "place_id": 2, "grower_id": 2, "donor_id": null, "received_on": "2026-11-20", "received_precision": "day", "plants": null, "isolation": "", "notes": "not weighed yet", "identity": "claimed", "unit": "mg", "stock_is_estimate": false}', NULL);
INSERT INTO public.history VALUES (18, '2a173fa6-7440-466c-8a05-2e28aeefcade', 'take in 5 lots', '2026-11-25 09:00:04', 1, 'movement', 5, NULL, '{"lot_id": 5}', NULL);
INSERT INTO public.history VALUES (19, 'a29b2fd9-5bfa-4ce9-8452-69346025654b', 'change lot PEA-26-001-Z', '2026-11-25 09:00:06', 1, 'lot', 5, '{"notes": "not weighed yet", "year": 2026}', '{"notes": "to be weighed on Friday", "year": 2025}', NULL);
INSERT INTO public.history VALUES (20, '6fb3a51c-b229-4bc1-807c-631b757c15b1', 'draw from LEK-24-001-7', '2026-11-25 09:00:07', 1, 'movement', 6, NULL, '{"lot_id": 1}', NULL);
INSERT INTO public.history VALUES (21, '725c0d03-346d-4c56-b6f5-bd4f6c55ad4c', 'correct movement 6', '2026-11-25 09:00:08', 1, 'movement', 7, NULL, '{"lot_id": 1}', NULL);
INSERT INTO public.history VALUES (23, 'ff08aa24-d21e-4f77-8024-12e8c8f75777', 'take back', '2026-11-25 09:00:10', 1, 'hold', 1, '{"id": 1, "lot_id": 4, "kind": "disease", "note": "spots on the leaves", "set_on": "2026-11-25", "set_by": 1, "lifted_on": null, "lifted_by": null, "lifted_why": ""}', NULL, NULL);
INSERT INTO public.history VALUES (22, '4f28b63c-3ddf-4b6a-b7be-19229dc1c047', 'hold lot PKC-23-001-1: disease', '2026-11-25 09:00:09', 1, 'hold', 1, NULL, '{"lot_id": 4, "kind": "disease", "note": "spots on the leaves", "set_on": "2026-11-25", "set_by": 1}', 'ff08aa24-d21e-4f77-8024-12e8c8f75777');
INSERT INTO public.history VALUES (24, 'a510fbd9-7701-440e-aadc-6aa610128ee5', 'hold lot PKC-23-001-1: insects', '2026-11-25 09:00:11', 1, 'hold', 2, NULL, '{"lot_id": 4, "kind": "insects", "note": "moth in the jar", "set_on": "2026-11-25", "set_by": 1}', NULL);
INSERT INTO public.history VALUES (25, '88b41ad3-1c1f-4a4e-8df9-96b86f9409e5', 'make store place Cold room', '2026-11-25 09:00:13', 1, 'store_place', 1, NULL, '{"parent_id": null, "kind": "room", "name": "Cold room", "temperature_c": 8, "humidity_percent": 45, "note": ""}', NULL);
INSERT INTO public.history VALUES (26, '8de6a0c0-296c-4016-9a42-804bfcfad620', 'make store place Box 4', '2026-11-25 09:00:14', 1, 'store_place', 2, NULL, '{"parent_id": 1, "kind": "box", "name": "Box 4", "temperature_c": null, "humidity_percent": null, "note": ""}', NULL);
INSERT INTO public.history VALUES (27, '90859378-00c2-4a2a-9246-db1095973018', 'move lot LEK-24-001-7', '2026-11-25 09:00:15', 1, 'stay', 1, NULL, '{"lot_id": 1, "store_place_id": 2, "from_on": "2026-11-25", "container": "jar", "airtight": true}', NULL);
INSERT INTO public.history VALUES (28, '709f64a4-2ab2-4bd6-8562-d4dfc1083229', 'move lot LET-25-001-7', '2026-11-25 09:00:16', 1, 'stay', 2, NULL, '{"lot_id": 3, "store_place_id": 2, "from_on": "2026-11-25", "container": "jar", "airtight": true}', NULL);
INSERT INTO public.history VALUES (29, '52d1e36a-e5dc-4222-b3cb-df6cb0167160', 'dry lot LEK-24-001-7', '2026-11-25 09:00:17', 1, 'lot', 1, '{"moisture_percent_wb": null}', '{"moisture_percent_wb": 7.2}', NULL);
INSERT INTO public.history VALUES (30, '52d1e36a-e5dc-4222-b3cb-df6cb0167160', 'dry lot LEK-24-001-7', '2026-11-25 09:00:17', 1, 'preparing_step', 1, NULL, '{"lot_id": 1, "kind": "dried", "on_date": "2026-11-25", "person_id": 1, "evidence": "moisture reading", "evidence_value": 7.2, "evidence_passed": true, "sealed": true, "mass_mg": null, "note": ""}', NULL);
INSERT INTO public.history VALUES (31, 'e433088f-59ec-4e01-a9eb-61ec118b5d34', 'count a thousand-seed weight of LET-25-001-7', '2026-11-25 09:00:18', 1, 'lot', 3, '{"thousand_seed_weight_ug": null}', '{"thousand_seed_weight_ug": 1126250}', NULL);
INSERT INTO public.history VALUES (32, 'e433088f-59ec-4e01-a9eb-61ec118b5d34', 'count a thousand-seed weight of LET-25-001-7', '2026-11-25 09:00:18', 1, 'preparing_step', 2, NULL, '{"lot_id": 3, "kind": "counted", "on_date": "2026-11-25", "person_id": 1, "seeds": 100, "replicates_mg": [112, 115, 110, 114, 113, 112, 111, 114], "thousand_seed_weight_ug": 1126250, "cv_percent": 1.496131423762218, "note": ""}', NULL);
INSERT INTO public.history VALUES (33, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'germination_test', 1, NULL, '{"lot_id": 1, "state": "running", "started_on": "2026-11-25", "origin": "here", "rules": "home test", "substrate": "between blotters", "temperature": "20 \u00b0C", "standard_percent": 60, "note": "", "seeds": 400}', NULL);
INSERT INTO public.history VALUES (34, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'dish', 1, NULL, '{"test_id": 1, "number": 1, "seeds": 100}', NULL);
INSERT INTO public.history VALUES (35, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'dish', 2, NULL, '{"test_id": 1, "number": 2, "seeds": 100}', NULL);
INSERT INTO public.history VALUES (36, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'dish', 3, NULL, '{"test_id": 1, "number": 3, "seeds": 100}', NULL);
INSERT INTO public.history VALUES (37, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'dish', 4, NULL, '{"test_id": 1, "number": 4, "seeds": 100}', NULL);
INSERT INTO public.history VALUES (38, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'movement', 8, NULL, '{"lot_id": 1}', NULL);
INSERT INTO public.history VALUES (39, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'dish_count', 1, NULL, '{"dish_id": 1, "on_date": "2026-11-25", "normal": 88, "abnormal": null, "hard": null, "fresh": null, "dead": 8}', NULL);
INSERT INTO public.history VALUES (40, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'dish_count', 2, NULL, '{"dish_id": 2, "on_date": "2026-11-25", "normal": 90, "abnormal": null, "hard": null, "fresh": null, "dead": 6}', NULL);
INSERT INTO public.history VALUES (41, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'dish_count', 3, NULL, '{"dish_id": 3, "on_date": "2026-11-25", "normal": 91, "abnormal": null, "hard": null, "fresh": null, "dead": 5}', NULL);
INSERT INTO public.history VALUES (42, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'dish_count', 4, NULL, '{"dish_id": 4, "on_date": "2026-11-25", "normal": 87, "abnormal": null, "hard": null, "fresh": null, "dead": 9}', NULL);
INSERT INTO public.history VALUES (43, '691aa839-66fd-467c-ade5-1dcb8cb8cc85', 'record a germination test of LEK-24-001-7', '2026-11-25 09:00:19', 1, 'germination_test', 1, '{"state": "running", "finished_on": null, "normal_percent": null, "dead_percent": null, "not_classed_percent": null, "low_percent": null, "high_percent": null, "range_percent": null, "allowed_percent": null, "within_tolerance": null, "verdict": null, "verdict_why": ""}', '{"state": "finished", "finished_on": "2026-11-25", "normal_percent": 89, "dead_percent": 7, "not_classed_percent": 4, "low_percent": 86.16000135034729, "high_percent": 91.31596218467294, "range_percent": 4.0, "allowed_percent": 12.0, "within_tolerance": true, "verdict": "keep", "verdict_why": "germination 89 % of 400 seeds against the standard for Leek, 60 %, hard seed counted: it reaches the bar."}', NULL);
INSERT INTO public.history VALUES (44, '9cb582bd-aa3a-4627-a880-8dc5d2a0afa8', 'start a germination test of BNB-26-001-Z', '2026-11-25 09:00:20', 1, 'germination_test', 2, NULL, '{"lot_id": 2, "state": "running", "started_on": "2026-11-25", "substrate": "sand or soil", "temperature": "20 \u00b0C", "first_count_days": 4, "final_count_days": 14, "prechill_days": 0, "standard_percent": 75, "note": "", "seeds": 50}', NULL);
INSERT INTO public.history VALUES (45, '9cb582bd-aa3a-4627-a880-8dc5d2a0afa8', 'start a germination test of BNB-26-001-Z', '2026-11-25 09:00:20', 1, 'dish', 5, NULL, '{"test_id": 2, "number": 1, "seeds": 25}', NULL);
INSERT INTO public.history VALUES (46, '9cb582bd-aa3a-4627-a880-8dc5d2a0afa8', 'start a germination test of BNB-26-001-Z', '2026-11-25 09:00:20', 1, 'dish', 6, NULL, '{"test_id": 2, "number": 2, "seeds": 25}', NULL);
INSERT INTO public.history VALUES (47, '9cb582bd-aa3a-4627-a880-8dc5d2a0afa8', 'start a germination test of BNB-26-001-Z', '2026-11-25 09:00:20', 1, 'movement', 9, NULL, '{"lot_id": 2}', NULL);
INSERT INTO public.history VALUES (48, '7edf0587-99e1-4e48-9513-ed426433808e', 'pack LEK-24-001-7', '2026-11-25 09:00:21', 1, 'packet_batch', 1, NULL, '{"lot_id": 1, "packed_on": "2026-11-25", "packets": 4, "seeds_per_packet": 150, "fill_mg": 390, "packets_left": 4}', NULL);
INSERT INTO public.history VALUES (49, '7edf0587-99e1-4e48-9513-ed426433808e', 'pack LEK-24-001-7', '2026-11-25 09:00:21', 1, 'movement', 10, NULL, '{"lot_id": 1}', NULL);
INSERT INTO public.history VALUES (50, '1d10ae01-1ee7-4f93-9d5a-e3e6e0b7bd33', 'name it otherwise', '2026-11-25 09:00:22', 1, 'synonym', 1, NULL, '{"variety_id": 1, "name": "Old Ferryman", "folded": "old ferryman"}', NULL);


--
-- Data for Name: hold; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.hold VALUES (2, 4, 'insects', 'moth in the jar', '2026-11-25', 1, NULL, NULL, '');


--
-- Data for Name: lot; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.lot VALUES (3, 'LET-25-001-7', 3, 2025, 2, 2, NULL, '2025-09-20', 'day', 12, '', 'bolted late', 'claimed', 'mg', 6500, false, 1126250, NULL, NULL, NULL, NULL, '2025-12-01', 'never tested; first test season after receipt in Sep 2025', '', NULL, false, 'stored', 'let250017 let 25 001 7 creme de candlewick lettuce salat lechuga laitue lactuca sativa tomas reed upper mill 2025 bolted late', 3);
INSERT INTO public.lot VALUES (5, 'PEA-26-001-Z', 5, 2025, 2, 2, NULL, '2026-11-20', 'day', NULL, '', 'to be weighed on Friday', 'claimed', 'mg', NULL, false, NULL, NULL, NULL, NULL, NULL, '2026-12-01', 'never tested; first test season after receipt in Nov 2026', '', NULL, false, 'to be weighed', 'pea26001z pea 26 001 z long wharf erbse guisante pois pisum sativum tomas reed upper mill 2025 to be weighed on friday', 2);
INSERT INTO public.lot VALUES (2, 'BNB-26-001-Z', 2, 2026, 1, 1, NULL, '2026-10-02', 'day', 40, '', '', 'claimed', 'mg', 290000, false, NULL, NULL, NULL, NULL, NULL, '2026-12-01', 'never tested; first test season after receipt in Oct 2026', 'under test', NULL, false, 'under test', 'bnb26001z bnb 26 001 z bannermans dwarf broad bean fava ackerbohne haba feve vicia faba ada quill ferry reach 2026', 3);
INSERT INTO public.lot VALUES (4, 'PKC-23-001-1', 4, 2023, 3, NULL, NULL, '2023-11-05', 'day', 6, '', '上海青菜種子 from the market', 'claimed', 'mg', 3000, false, NULL, NULL, NULL, NULL, NULL, '2023-12-01', 'never tested; first test season after receipt in Nov 2023', '', NULL, false, 'held', 'pkc230011 pkc 23 001 1 上海青 pak choi bok choy brassica rapa subsp chinensis ostervik 2023 上海青菜種子 from the market', 2);
INSERT INTO public.lot VALUES (1, 'LEK-24-001-7', 1, 2024, 1, 1, NULL, '2025-01-10', 'day', 24, 'cage', '', 'claimed', 'mg', 39409, false, NULL, 7.2, 89, NULL, '2026-11-25', '2031-11-25', 'last tested Nov 2026; the forecast of its viability asks for the next test', '', false, false, 'stored', 'lek240017 lek 24 001 7 grey ferryman old leek lauch puerro poireau allium ampeloprasum porrum group ada quill ferry reach 2024', 7);


--
-- Data for Name: lot_parent; Type: TABLE DATA; Schema: public; Owner: -
--



--
-- Data for Name: movement; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.movement VALUES (1, 1, 'received', 42000, '2025-01-10', 1, '', NULL, NULL, NULL, '2026-11-25 09:00:04');
INSERT INTO public.movement VALUES (2, 2, 'received', 350000, '2026-10-02', 1, '', NULL, NULL, NULL, '2026-11-25 09:00:04');
INSERT INTO public.movement VALUES (3, 3, 'received', 6500, '2025-09-20', 1, '', NULL, NULL, NULL, '2026-11-25 09:00:04');
INSERT INTO public.movement VALUES (4, 4, 'received', 3000, '2023-11-05', 1, '', NULL, NULL, NULL, '2026-11-25 09:00:04');
INSERT INTO public.movement VALUES (5, 5, 'received', NULL, '2026-11-20', 1, '', NULL, NULL, NULL, '2026-11-25 09:00:04');
INSERT INTO public.movement VALUES (6, 1, 'sown', -1500, '2026-11-25', 1, 'trial bed', NULL, NULL, NULL, '2026-11-25 09:00:07');
INSERT INTO public.movement VALUES (7, 1, 'corrected', 1500, '2026-11-25', 1, 'weighed the wrong jar', 6, NULL, NULL, '2026-11-25 09:00:08');
INSERT INTO public.movement VALUES (8, 1, 'test', -1031, '2026-11-25', 1, '400 seeds laid for a germination test', NULL, 1, NULL, '2026-11-25 09:00:19');
INSERT INTO public.movement VALUES (9, 2, 'test', -60000, '2026-11-25', 1, '50 seeds laid for a germination test', NULL, 2, NULL, '2026-11-25 09:00:20');
INSERT INTO public.movement VALUES (10, 1, 'packed', -1560, '2026-11-25', 1, '4 packets of 150 seeds', NULL, NULL, 1, '2026-11-25 09:00:21');


--
-- Data for Name: packet_batch; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.packet_batch VALUES (1, 1, '2026-11-25', 4, 150, 390, 4);


--
-- Data for Name: person; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.person VALUES (1, 'Ada Quill', 'ada quill', '', true, NULL);
INSERT INTO public.person VALUES (2, 'Tomas Reed', 'tomas reed', '', false, NULL);


--
-- Data for Name: place; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.place VALUES (1, 'Ferry Reach', 'ferry reach', '');
INSERT INTO public.place VALUES (2, 'Upper Mill', 'upper mill', '');
INSERT INTO public.place VALUES (3, 'Östervik', 'ostervik', '');


--
-- Data for Name: preparing_step; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.preparing_step VALUES (1, 1, 'dried', '2026-11-25', NULL, NULL, 'moisture reading', 7.2, true, true, NULL, NULL, NULL, NULL, NULL, 1, '');
INSERT INTO public.preparing_step VALUES (2, 3, 'counted', '2026-11-25', NULL, NULL, NULL, NULL, true, false, 100, '[112, 115, 110, 114, 113, 112, 111, 114]', 1126250, 1.496131423762218, NULL, 1, '');


--
-- Data for Name: setting; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.setting VALUES ('library_name', '"Ferry Reach seed library"');
INSERT INTO public.setting VALUES ('closed_weekdays', '[6]');


--
-- Data for Name: stay; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.stay VALUES (1, 1, 2, '2026-11-25', NULL, 'jar', true);
INSERT INTO public.stay VALUES (2, 3, 2, '2026-11-25', NULL, 'jar', true);


--
-- Data for Name: store_place; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.store_place VALUES (1, NULL, 'room', 'Cold room', 8, 45, '');
INSERT INTO public.store_place VALUES (2, 1, 'box', 'Box 4', NULL, NULL, '');


--
-- Data for Name: synonym; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.synonym VALUES (1, 1, 'Old Ferryman', 'old ferryman');


--
-- Data for Name: variety; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.variety VALUES (1, 51, 'Grey Ferryman', 'grey ferryman', '');
INSERT INTO public.variety VALUES (2, 10, 'Bannerman''s Dwarf', 'bannermans dwarf', '');
INSERT INTO public.variety VALUES (3, 35, 'Crème de Candlewick', 'creme de candlewick', '');
INSERT INTO public.variety VALUES (4, 21, '上海青', '上海青', '');
INSERT INTO public.variety VALUES (5, 76, 'Long Wharf', 'long wharf', '');


--
-- Name: crop_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.crop_id_seq', 166, true);


--
-- Name: dish_count_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.dish_count_id_seq', 4, true);


--
-- Name: dish_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.dish_id_seq', 6, true);


--
-- Name: germination_test_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.germination_test_id_seq', 2, true);


--
-- Name: history_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.history_id_seq', 50, true);


--
-- Name: hold_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.hold_id_seq', 2, true);


--
-- Name: lot_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.lot_id_seq', 5, true);


--
-- Name: movement_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.movement_id_seq', 10, true);


--
-- Name: packet_batch_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.packet_batch_id_seq', 1, true);


--
-- Name: person_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.person_id_seq', 2, true);


--
-- Name: place_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.place_id_seq', 3, true);


--
-- Name: preparing_step_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.preparing_step_id_seq', 2, true);


--
-- Name: stay_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.stay_id_seq', 2, true);


--
-- Name: store_place_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.store_place_id_seq', 2, true);


--
-- Name: synonym_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.synonym_id_seq', 1, true);


--
-- Name: variety_id_seq; Type: SEQUENCE SET; Schema: public; Owner: -
--

SELECT pg_catalog.setval('public.variety_id_seq', 5, true);


--
-- Name: alembic_version alembic_version_pkc; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.alembic_version
    ADD CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num);


--
-- Name: crop pk_crop; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.crop
    ADD CONSTRAINT pk_crop PRIMARY KEY (id);


--
-- Name: dish pk_dish; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.dish
    ADD CONSTRAINT pk_dish PRIMARY KEY (id);


--
-- Name: dish_count pk_dish_count; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.dish_count
    ADD CONSTRAINT pk_dish_count PRIMARY KEY (id);


--
-- Name: germination_test pk_germination_test; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.germination_test
    ADD CONSTRAINT pk_germination_test PRIMARY KEY (id);


--
-- Name: history pk_history; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.history
    ADD CONSTRAINT pk_history PRIMARY KEY (id);


--
-- Name: hold pk_hold; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.hold
    ADD CONSTRAINT pk_hold PRIMARY KEY (id);


--
-- Name: lot pk_lot; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot
    ADD CONSTRAINT pk_lot PRIMARY KEY (id);


--
-- Name: lot_parent pk_lot_parent; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot_parent
    ADD CONSTRAINT pk_lot_parent PRIMARY KEY (lot_id, parent_id);


--
-- Name: movement pk_movement; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.movement
    ADD CONSTRAINT pk_movement PRIMARY KEY (id);


--
-- Name: packet_batch pk_packet_batch; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.packet_batch
    ADD CONSTRAINT pk_packet_batch PRIMARY KEY (id);


--
-- Name: person pk_person; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.person
    ADD CONSTRAINT pk_person PRIMARY KEY (id);


--
-- Name: place pk_place; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.place
    ADD CONSTRAINT pk_place PRIMARY KEY (id);


--
-- Name: preparing_step pk_preparing_step; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.preparing_step
    ADD CONSTRAINT pk_preparing_step PRIMARY KEY (id);


--
-- Name: setting pk_setting; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.setting
    ADD CONSTRAINT pk_setting PRIMARY KEY (name);


--
-- Name: stay pk_stay; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.stay
    ADD CONSTRAINT pk_stay PRIMARY KEY (id);


--
-- Name: store_place pk_store_place; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.store_place
    ADD CONSTRAINT pk_store_place PRIMARY KEY (id);


--
-- Name: synonym pk_synonym; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.synonym
    ADD CONSTRAINT pk_synonym PRIMARY KEY (id);


--
-- Name: variety pk_variety; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.variety
    ADD CONSTRAINT pk_variety PRIMARY KEY (id);


--
-- Name: crop uq_crop_code; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.crop
    ADD CONSTRAINT uq_crop_code UNIQUE (code);


--
-- Name: crop uq_crop_key; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.crop
    ADD CONSTRAINT uq_crop_key UNIQUE (key);


--
-- Name: dish_count uq_dish_count_dish_id_on_date; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.dish_count
    ADD CONSTRAINT uq_dish_count_dish_id_on_date UNIQUE (dish_id, on_date);


--
-- Name: dish uq_dish_test_id_number; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.dish
    ADD CONSTRAINT uq_dish_test_id_number UNIQUE (test_id, number);


--
-- Name: lot uq_lot_number; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot
    ADD CONSTRAINT uq_lot_number UNIQUE (number);


--
-- Name: movement uq_movement_corrects_id; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.movement
    ADD CONSTRAINT uq_movement_corrects_id UNIQUE (corrects_id);


--
-- Name: place uq_place_folded; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.place
    ADD CONSTRAINT uq_place_folded UNIQUE (folded);


--
-- Name: synonym uq_synonym_variety_id_folded; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.synonym
    ADD CONSTRAINT uq_synonym_variety_id_folded UNIQUE (variety_id, folded);


--
-- Name: variety uq_variety_crop_id_folded; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.variety
    ADD CONSTRAINT uq_variety_crop_id_folded UNIQUE (crop_id, folded);


--
-- Name: ix_germination_test_lot_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_germination_test_lot_id ON public.germination_test USING btree (lot_id);


--
-- Name: ix_history_job; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_history_job ON public.history USING btree (job);


--
-- Name: ix_history_row; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_history_row ON public.history USING btree (table_name, row_id);


--
-- Name: ix_hold_lot_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_hold_lot_id ON public.hold USING btree (lot_id);


--
-- Name: ix_lot_donor_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_lot_donor_id ON public.lot USING btree (donor_id);


--
-- Name: ix_lot_due; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_lot_due ON public.lot USING btree (due_on, id) WHERE ((due_bar)::text = ''::text);


--
-- Name: ix_lot_find; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_lot_find ON public.lot USING gin (to_tsvector('simple'::regconfig, find_text));


--
-- Name: ix_lot_grower_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_lot_grower_id ON public.lot USING btree (grower_id);


--
-- Name: ix_lot_parent_parent_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_lot_parent_parent_id ON public.lot_parent USING btree (parent_id);


--
-- Name: ix_lot_place_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_lot_place_id ON public.lot USING btree (place_id);


--
-- Name: ix_lot_variety_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_lot_variety_id ON public.lot USING btree (variety_id);


--
-- Name: ix_movement_lot_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_movement_lot_id ON public.movement USING btree (lot_id);


--
-- Name: ix_packet_batch_lot_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_packet_batch_lot_id ON public.packet_batch USING btree (lot_id);


--
-- Name: ix_preparing_step_lot_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_preparing_step_lot_id ON public.preparing_step USING btree (lot_id);


--
-- Name: ix_stay_lot_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_stay_lot_id ON public.stay USING btree (lot_id);


--
-- Name: ix_stay_store_place_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_stay_store_place_id ON public.stay USING btree (store_place_id);


--
-- Name: ix_store_place_parent_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_store_place_parent_id ON public.store_place USING btree (parent_id);


--
-- Name: ix_synonym_folded; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_synonym_folded ON public.synonym USING btree (folded);


--
-- Name: ix_variety_crop_id; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX ix_variety_crop_id ON public.variety USING btree (crop_id);


--
-- Name: history history_no_delete; Type: TRIGGER; Schema: public; Owner: -
--

CREATE TRIGGER history_no_delete BEFORE DELETE ON public.history FOR EACH ROW EXECUTE FUNCTION public.history_stands();


--
-- Name: history history_no_truncate; Type: TRIGGER; Schema: public; Owner: -
--

CREATE TRIGGER history_no_truncate BEFORE TRUNCATE ON public.history FOR EACH STATEMENT EXECUTE FUNCTION public.history_stands();


--
-- Name: movement movement_no_delete; Type: TRIGGER; Schema: public; Owner: -
--

CREATE TRIGGER movement_no_delete BEFORE DELETE ON public.movement FOR EACH ROW EXECUTE FUNCTION public.movement_stands();


--
-- Name: movement movement_no_truncate; Type: TRIGGER; Schema: public; Owner: -
--

CREATE TRIGGER movement_no_truncate BEFORE TRUNCATE ON public.movement FOR EACH STATEMENT EXECUTE FUNCTION public.movement_stands();


--
-- Name: movement movement_no_update; Type: TRIGGER; Schema: public; Owner: -
--

CREATE TRIGGER movement_no_update BEFORE UPDATE ON public.movement FOR EACH ROW EXECUTE FUNCTION public.movement_stands();


--
-- Name: dish_count fk_dish_count_dish_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.dish_count
    ADD CONSTRAINT fk_dish_count_dish_id FOREIGN KEY (dish_id) REFERENCES public.dish(id);


--
-- Name: dish fk_dish_test_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.dish
    ADD CONSTRAINT fk_dish_test_id FOREIGN KEY (test_id) REFERENCES public.germination_test(id);


--
-- Name: germination_test fk_germination_test_lot_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.germination_test
    ADD CONSTRAINT fk_germination_test_lot_id FOREIGN KEY (lot_id) REFERENCES public.lot(id);


--
-- Name: history fk_history_person_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.history
    ADD CONSTRAINT fk_history_person_id FOREIGN KEY (person_id) REFERENCES public.person(id);


--
-- Name: hold fk_hold_lifted_by; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.hold
    ADD CONSTRAINT fk_hold_lifted_by FOREIGN KEY (lifted_by) REFERENCES public.person(id);


--
-- Name: hold fk_hold_lot_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.hold
    ADD CONSTRAINT fk_hold_lot_id FOREIGN KEY (lot_id) REFERENCES public.lot(id);


--
-- Name: hold fk_hold_set_by; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.hold
    ADD CONSTRAINT fk_hold_set_by FOREIGN KEY (set_by) REFERENCES public.person(id);


--
-- Name: lot fk_lot_donor_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot
    ADD CONSTRAINT fk_lot_donor_id FOREIGN KEY (donor_id) REFERENCES public.person(id);


--
-- Name: lot fk_lot_grower_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot
    ADD CONSTRAINT fk_lot_grower_id FOREIGN KEY (grower_id) REFERENCES public.person(id);


--
-- Name: lot_parent fk_lot_parent_lot_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot_parent
    ADD CONSTRAINT fk_lot_parent_lot_id FOREIGN KEY (lot_id) REFERENCES public.lot(id);


--
-- Name: lot_parent fk_lot_parent_parent_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot_parent
    ADD CONSTRAINT fk_lot_parent_parent_id FOREIGN KEY (parent_id) REFERENCES public.lot(id);


--
-- Name: lot fk_lot_place_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot
    ADD CONSTRAINT fk_lot_place_id FOREIGN KEY (place_id) REFERENCES public.place(id);


--
-- Name: lot fk_lot_variety_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.lot
    ADD CONSTRAINT fk_lot_variety_id FOREIGN KEY (variety_id) REFERENCES public.variety(id);


--
-- Name: movement fk_movement_batch_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.movement
    ADD CONSTRAINT fk_movement_batch_id FOREIGN KEY (batch_id) REFERENCES public.packet_batch(id);


--
-- Name: movement fk_movement_corrects_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.movement
    ADD CONSTRAINT fk_movement_corrects_id FOREIGN KEY (corrects_id) REFERENCES public.movement(id);


--
-- Name: movement fk_movement_lot_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.movement
    ADD CONSTRAINT fk_movement_lot_id FOREIGN KEY (lot_id) REFERENCES public.lot(id);


--
-- Name: movement fk_movement_person_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.movement
    ADD CONSTRAINT fk_movement_person_id FOREIGN KEY (person_id) REFERENCES public.person(id);


--
-- Name: movement fk_movement_test_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.movement
    ADD CONSTRAINT fk_movement_test_id FOREIGN KEY (test_id) REFERENCES public.germination_test(id);


--
-- Name: packet_batch fk_packet_batch_lot_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.packet_batch
    ADD CONSTRAINT fk_packet_batch_lot_id FOREIGN KEY (lot_id) REFERENCES public.lot(id);


--
-- Name: preparing_step fk_preparing_step_lot_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.preparing_step
    ADD CONSTRAINT fk_preparing_step_lot_id FOREIGN KEY (lot_id) REFERENCES public.lot(id);


--
-- Name: preparing_step fk_preparing_step_person_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.preparing_step
    ADD CONSTRAINT fk_preparing_step_person_id FOREIGN KEY (person_id) REFERENCES public.person(id);


--
-- Name: stay fk_stay_lot_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.stay
    ADD CONSTRAINT fk_stay_lot_id FOREIGN KEY (lot_id) REFERENCES public.lot(id);


--
-- Name: stay fk_stay_store_place_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.stay
    ADD CONSTRAINT fk_stay_store_place_id FOREIGN KEY (store_place_id) REFERENCES public.store_place(id);


--
-- Name: store_place fk_store_place_parent_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.store_place
    ADD CONSTRAINT fk_store_place_parent_id FOREIGN KEY (parent_id) REFERENCES public.store_place(id);


--
-- Name: synonym fk_synonym_variety_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.synonym
    ADD CONSTRAINT fk_synonym_variety_id FOREIGN KEY (variety_id) REFERENCES public.variety(id);


--
-- Name: variety fk_variety_crop_id; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.variety
    ADD CONSTRAINT fk_variety_crop_id FOREIGN KEY (crop_id) REFERENCES public.crop(id);


--
-- PostgreSQL database dump complete
--


