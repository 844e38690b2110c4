"""forecasts kept, what closed jobs came to, what is known of each mix"""

from alembic import op
import sqlalchemy as sa
from slabtide.store import types

revision = '0003'
down_revision = '0002'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('forecast_mark',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('job', sa.String(length=36), nullable=False),
    sa.Column('load', sa.String(length=36), nullable=False),
    sa.Column('what', sa.String(length=12), nullable=False),
    sa.Column('stage', sa.String(length=12), nullable=False),
    sa.Column('made_at', types.UtcDateTime(), nullable=False),
    sa.Column('afterwards', sa.Boolean(), nullable=False),
    sa.Column('basis', sa.String(length=100), nullable=False),
    sa.Column('opens', sa.JSON(none_as_null=True), nullable=True),
    sa.Column('closes', sa.JSON(none_as_null=True), nullable=True),
    sa.PrimaryKeyConstraint('company_id', 'job', 'load', 'what', 'stage', name=op.f('pk_forecast_mark'))
    )
    op.create_table('job_prior',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('job', sa.String(length=36), nullable=False),
    sa.Column('mix_key', sa.String(length=80), nullable=False),
    sa.Column('plant_key', sa.String(length=80), nullable=False),
    sa.Column('settled', sa.Boolean(), nullable=False),
    sa.Column('told', sa.JSON(none_as_null=True), nullable=True),
    sa.Column('began_mean', sa.Double(), nullable=True),
    sa.Column('began_sd', sa.Double(), nullable=True),
    sa.PrimaryKeyConstraint('company_id', 'job', name=op.f('pk_job_prior'))
    )
    with op.batch_alter_table('job_prior', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_job_prior_company_id_mix_key'), ['company_id', 'mix_key'], unique=False)
    op.create_table('job_result',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('job', sa.String(length=36), nullable=False),
    sa.Column('name', sa.String(length=80), nullable=False),
    sa.Column('closed_at', types.UtcDateTime(), nullable=False),
    sa.Column('poured_at', types.UtcDateTime(), nullable=True),
    sa.Column('month', sa.String(length=7), nullable=False),
    sa.Column('mix_key', sa.String(length=80), nullable=False),
    sa.Column('plant_key', sa.String(length=80), nullable=False),
    sa.Column('mix', sa.String(length=80), nullable=False),
    sa.Column('plant', sa.String(length=80), nullable=False),
    sa.Column('mean_log', sa.Double(), nullable=True),
    sa.Column('sd_log', sa.Double(), nullable=True),
    sa.Column('began_mean', sa.Double(), nullable=True),
    sa.Column('began_sd', sa.Double(), nullable=True),
    sa.Column('aside', sa.Text(), nullable=True),
    sa.Column('shown', sa.JSON(none_as_null=True), nullable=False),
    sa.PrimaryKeyConstraint('company_id', 'job', name=op.f('pk_job_result'))
    )
    with op.batch_alter_table('job_result', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_job_result_company_id_mix_key_plant_key_closed_at'), ['company_id', 'mix_key', 'plant_key', 'closed_at'], unique=False)
        batch_op.create_index(batch_op.f('ix_job_result_company_id_poured_at'), ['company_id', 'poured_at'], unique=False)
    op.create_table('mix_prior',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('mix_key', sa.String(length=80), nullable=False),
    sa.Column('plant_key', sa.String(length=80), nullable=False),
    sa.Column('mix', sa.String(length=80), nullable=False),
    sa.Column('plant', sa.String(length=80), nullable=False),
    sa.Column('pours', sa.Integer(), nullable=False),
    sa.Column('mean_log', sa.Double(), nullable=False),
    sa.Column('sd_log', sa.Double(), nullable=False),
    sa.Column('last_at', types.UtcDateTime(), nullable=False),
    sa.PrimaryKeyConstraint('company_id', 'mix_key', 'plant_key', name=op.f('pk_mix_prior'))
    )
    # Jobs closed before are learned from too: let the worker look at each again.
    job_mark = sa.table('job_mark', sa.column('dirty', sa.Boolean), sa.column('version', sa.Integer))
    op.execute(job_mark.update().values(dirty=True, version=job_mark.c.version + 1))


def downgrade() -> None:
    op.drop_table('mix_prior')
    op.drop_table('job_result')
    op.drop_table('job_prior')
    op.drop_table('forecast_mark')
